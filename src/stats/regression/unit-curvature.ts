import { Matrix } from "ml-matrix";

/** Minus second derivatives in units in which each parameter's own is 1 (or -1), and those units. */
export function unitCurvature(bend: Float64Array, size: number): { curvature: Matrix; unit: Float64Array } {
  const unit = Float64Array.from({ length: size }, (_, one) => Math.sqrt(Math.abs(bend[one * size + one]!)) || 1);
  const curvature = new Matrix(size, size);
  for (let one = 0; one < size; one++) {
    for (let other = 0; other < size; other++) {
      curvature.set(one, other, -bend[one * size + other]! / (unit[one]! * unit[other]!));
    }
  }
  return { curvature, unit };
}

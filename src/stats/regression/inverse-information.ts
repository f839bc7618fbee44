import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { CrossSums } from "./cross-sums.ts";
import { FLAT } from "./hill.ts";
import { unitCurvature } from "./unit-curvature.ts";

/**
 * Inverse of minus the second derivatives.
 * @returns null where they are not those of a hill, or nearly flat along some direction
 */
export function inverseInformation({ bend, slope }: Pick<CrossSums, "bend" | "slope">): Matrix | null {
  const { curvature, unit } = unitCurvature(bend, slope.length);
  const hill = new CholeskyDecomposition(curvature);
  const pivots = hill.lowerTriangularMatrix.diagonal();
  if (!hill.isPositiveDefinite() || pivots.some((pivot) => !(pivot * pivot > FLAT))) return null;
  const units = Matrix.diag([...unit].map((value) => 1 / value));
  return units.mmul(hill.solve(Matrix.eye(slope.length))).mmul(units);
}

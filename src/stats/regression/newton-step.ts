import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from "ml-matrix";
import type { CrossSums } from "./cross-sums.ts";
import { unitCurvature } from "./unit-curvature.ts";

/** `gain`: by how much twice the log-likelihood rises along the step if it is a parabola; `raised`: its curvature was not that of a hill. */
type NewtonStep = { step: Float64Array; gain: number; raised: boolean };

/**
 * The step to the top of the parabola that a log-likelihood is at a point. Where the curvature is not that of a hill it is raised until it
 * is, so that the step goes up.
 */
export function newtonStep({ slope, bend }: CrossSums): NewtonStep {
  const { curvature, unit } = unitCurvature(bend, slope.length);
  const { hill, raised } = hillOf(curvature);
  const rise = Matrix.columnVector(slope.map((value, one) => value / unit[one]!));
  const along = hill?.solve(rise).to1DArray() ?? [];
  const step = slope.map((_, one) => (along[one] ?? Number.NaN) / unit[one]!);
  const gain = step.reduce((sum, value, one) => sum + value * slope[one]!, 0);
  return { step, gain, raised };
}

function hillOf(curvature: Matrix): { hill: CholeskyDecomposition | null; raised: boolean } {
  if (!curvature.to1DArray().every(Number.isFinite)) return { hill: null, raised: true };
  const hill = new CholeskyDecomposition(curvature);
  if (hill.isPositiveDefinite()) return { hill, raised: false };
  const ways = new EigenvalueDecomposition(curvature, { assumeSymmetric: true }).realEigenvalues;
  const most = Math.max(...ways.map(Math.abs), Number.MIN_VALUE);
  const raise = 1e-3 * most - Math.min(...ways);
  const raised = new CholeskyDecomposition(Matrix.add(curvature, Matrix.eye(curvature.rows, curvature.rows, raise)));
  return { hill: raised.isPositiveDefinite() ? raised : null, raised: true };
}

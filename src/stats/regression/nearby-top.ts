import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { CrossSums, Slopes } from "./cross-sums.ts";
import { FLAT } from "./inverse-information.ts";
import { unitCurvature } from "./unit-curvature.ts";

/** Twice what the next step gains, from which on numbers say no more; as for a climb. */
const SETTLED = 1e-18;
/** Below this gain rounding may be all that is left. */
const ROUNDED = 1e-13;
/** A step must gain less than this share of the one before it: else the top is not near, or there is none. */
const FALLING = 0.2;
const MOST_STEPS = 20;
/** Share of the shape that a step may change at most. */
const SHAPE_STEP = 0.2;

/** How near is near enough, and what is known of the way to the start. */
type Nearness = {
  /** Square of what a step may leave, in standard errors, as told by how steps shrink; as little as numbers tell where not given. */
  enough?: number;
  /** Square of the way that led to the start, in standard errors. */
  last?: number;
};

/**
 * The top of a log-likelihood that lies near the start, as without one unit of many: by steps on the curvature at the start, each of which
 * takes the gradient alone. Steps shrink by a steady factor, the smaller the nearer the top is.
 * @param slopesAt - gradient of the log-likelihood
 * @param sums - those of the start, with second derivatives
 * @param fitsShape - the last number is a shape, which stays above 0
 * @returns null where the top is not near or the curvature is not that of a hill: a climb is to tell
 * @see C. T. Kelley, Iterative Methods for Linear and Nonlinear Equations, SIAM 1995, section 5.4.1 (the chord method)
 */
export function nearbyTop(
  slopesAt: (theta: Float64Array) => Pick<Slopes, "slope">,
  start: Float64Array,
  sums: Pick<CrossSums, "slope" | "bend">,
  fitsShape: boolean,
  { enough = 0, last: before = Number.POSITIVE_INFINITY }: Nearness = {},
): Float64Array | null {
  const stepAlong = stepper(sums);
  if (stepAlong === null) return null;
  let [at, slope, last] = [start, sums.slope, before];
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const step = stepAlong(slope);
    const gain = step.reduce((sum, value, one) => sum + value * slope[one]!, 0);
    if (fitsShape && !(Math.abs(step.at(-1)!) < SHAPE_STEP * at.at(-1)!)) return null;
    const next = at.map((value, one) => value + step[one]!);
    if (isLast(gain, last, enough)) return next;
    if (!(gain < FALLING * last)) return null;
    [at, slope, last] = [next, slopesAt(next).slope, gain];
  }
  return null;
}

/** Of a first step no shrinking tells yet what it leaves. */
function isLast(gain: number, last: number, enough: number): boolean {
  if (gain < SETTLED || (gain < ROUNDED && gain > FALLING * last)) return true;
  return gain < FALLING * last && last < Number.POSITIVE_INFINITY && gain ** 2 < enough * last;
}

function stepper({ bend, slope }: Pick<CrossSums, "slope" | "bend">): ((slope: Float64Array) => Float64Array) | null {
  const { curvature, unit } = unitCurvature(bend, slope.length);
  if (!curvature.to1DArray().every(Number.isFinite)) return null;
  const hill = new CholeskyDecomposition(curvature);
  const pivots = hill.lowerTriangularMatrix.diagonal();
  if (!hill.isPositiveDefinite() || pivots.some((pivot) => !(pivot * pivot > FLAT))) return null;
  return (rise) => {
    const along = hill.solve(Matrix.columnVector(rise.map((value, one) => value / unit[one]!)));
    return rise.map((_, one) => along.get(one, 0) / unit[one]!);
  };
}

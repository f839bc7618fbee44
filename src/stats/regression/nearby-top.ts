import type { CrossSums } from "./cross-sums.ts";
import { hillOf } from "./hill.ts";

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
 * @param slopeAt - gradient of the log-likelihood
 * @param sums - those of the start, with second derivatives
 * @param fitsShape - the last number is a shape, which stays above 0
 * @returns null where the top is not near or the curvature is not that of a hill: a climb is to tell
 * @see C. T. Kelley, Iterative Methods for Linear and Nonlinear Equations, SIAM 1995, section 5.4.1 (the chord method)
 */
export function nearbyTop(
  slopeAt: (theta: Float64Array) => Float64Array,
  start: Float64Array,
  sums: Pick<CrossSums, "slope" | "bend">,
  fitsShape: boolean,
  { enough = 0, last: before = Number.POSITIVE_INFINITY }: Nearness = {},
): Float64Array | null {
  const stepAlong = hillOf(sums.bend, start.length);
  if (stepAlong === null) return null;
  let [at, slope, last] = [start, sums.slope, before];
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const step = stepAlong(slope);
    let gain = 0;
    for (let one = 0; one < step.length; one++) gain += step[one]! * slope[one]!;
    if (fitsShape && !(Math.abs(step.at(-1)!) < SHAPE_STEP * at.at(-1)!)) return null;
    const next = at.map((value, one) => value + step[one]!);
    if (isLast(gain, last, enough)) return next;
    if (!(gain < FALLING * last)) return null;
    [at, slope, last] = [next, slopeAt(next), gain];
  }
  return null;
}

/** Of a first step no shrinking tells yet what it leaves. */
function isLast(gain: number, last: number, enough: number): boolean {
  if (gain < SETTLED || (gain < ROUNDED && gain > FALLING * last)) return true;
  return gain < FALLING * last && last < Number.POSITIVE_INFINITY && gain ** 2 < enough * last;
}

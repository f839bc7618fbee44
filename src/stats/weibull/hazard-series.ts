import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import type { HazardSums, LevelAndShape } from "./log-likelihood.ts";

/** Sums over the terms of weight * exp(level + shape * z) * z^k, k = 0 to 8, at one point. */
export type HazardSeries = { at: LevelAndShape; sums: readonly number[] };

const ORDER = 8;
const SIX_FACTORIAL = 720;
/** Of the second sum: what the last term of its series may come to. The first that is left out is then a hundredth of that, or less. */
const SMALL_TERM = 1e-10;

/** One pass over the terms, about twice as long as one for three sums: from it the hazard sums at all points near follow. */
export function hazardSeries({ z, weight }: Pick<GatheredLives, "z" | "weight">, at: LevelAndShape): HazardSeries {
  const { level, shape } = at;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let s5 = 0;
  let s6 = 0;
  let s7 = 0;
  let s8 = 0;
  for (let term = 0; term < z.length; term++) {
    const position = z[term]!;
    const square = position * position;
    const even = weight[term]! * expByTable(level + shape * position);
    const odd = even * position;
    const fourth = square * square;
    s0 += even;
    s1 += odd;
    s2 += even * square;
    s3 += odd * square;
    s4 += even * fourth;
    s5 += odd * fourth;
    s6 += even * fourth * square;
    s7 += odd * fourth * square;
    s8 += even * fourth * fourth;
  }
  return { at, sums: [s0, s1, s2, s3, s4, s5, s6, s7, s8] };
}

/** The hazard sums at a point near that of the series, by Taylor's series in the shape; by level they change as a whole. */
export function hazardSumsNear({ at, sums }: HazardSeries, { level, shape }: LevelAndShape): HazardSums {
  const by = shape - at.shape;
  const order = sums.length - 1;
  let zero = sums[0]!;
  let one = sums[1]!;
  let two = sums[2]!;
  for (let k = 1, power = by; k <= order; k++, power *= by / k) {
    zero += sums[k]! * power;
    if (k < order) one += sums[k + 1]! * power;
    if (k < order - 1) two += sums[k + 2]! * power;
  }
  const factor = Math.exp(level - at.level);
  return { zero: factor * zero, one: factor * one, two: factor * two };
}

/** Newton steps are quadratic: after one this small, of the shape, the next is at rounding. */
const SMALL_STEP = 1e-8;
const MOST_STEPS = 20;

/**
 * Point of greatest likelihood inside the series, for lives of which none failed within an interval: the level makes the failures expected
 * those seen, and the shape the root of a rising function, S1 / S0 = mean z of the failures + 1 / shape.
 * @returns null where the sums are not those of a hill
 */
export function bestNear(
  series: HazardSeries,
  { exact, exactSum }: Pick<GatheredLives, "exact" | "exactSum">,
): LevelAndShape | null {
  const { level } = series.at;
  let { shape } = series.at;
  for (let step = 0; step < MOST_STEPS; step++) {
    const { zero, one, two } = hazardSumsNear(series, { level, shape });
    const mean = one / zero;
    const slope = two / zero - mean * mean + 1 / shape ** 2;
    const by = (exactSum / exact + 1 / shape - mean) / slope;
    if (!(zero > 0 && slope > 0 && Math.abs(by) < shape)) return null;
    shape += by;
    if (Math.abs(by) < SMALL_STEP * shape) {
      return { level: level + Math.log(exact / hazardSumsNear(series, { level, shape }).zero), shape };
    }
  }
  return null;
}

/** Whether the point is so near that of the series that the sums there are as exact as if they were taken term by term. */
export function isNear({ at, sums }: HazardSeries, { shape }: LevelAndShape): boolean {
  const cube = (shape - at.shape) ** 3;
  const last = (sums[ORDER]! * cube * cube) / SIX_FACTORIAL;
  return Math.abs(last) < SMALL_TERM * Math.abs(sums[2]!);
}

import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import type { HazardSums, LevelAndShape } from "./log-likelihood.ts";

/** Sums over the terms of weight * exp(level + shape * z) * z^k, k = 0 to 8, at one point. */
export type HazardSeries = { at: LevelAndShape; sums: Float64Array };

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
  return { at, sums: Float64Array.of(s0, s1, s2, s3, s4, s5, s6, s7, s8) };
}

/** The hazard sums at a point near that of the series, by Taylor's series in the shape; by level they change as a whole. */
export function hazardSumsNear({ at, sums }: HazardSeries, { level, shape }: LevelAndShape): HazardSums {
  const by = shape - at.shape;
  const factor = Math.exp(level - at.level);
  const sum = (from: number) => {
    let total = 0;
    for (let k = ORDER; k > from; k--) total = ((total + sums[k]!) * by) / (k - from);
    return factor * (total + sums[from]!);
  };
  return { zero: sum(0), one: sum(1), two: sum(2) };
}

/** Whether the point is so near that of the series that the sums there are as exact as if they were taken term by term. */
export function isNear({ at, sums }: HazardSeries, { shape }: LevelAndShape): boolean {
  const last = (sums[ORDER]! * (shape - at.shape) ** (ORDER - 2)) / SIX_FACTORIAL;
  return Math.abs(last) < SMALL_TERM * Math.abs(sums[2]!);
}

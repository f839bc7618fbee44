import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import type { ExactFailures, HazardSums, LevelAndShape } from "./log-likelihood.ts";

/**
 * Sums over the terms of weight * exp(level + shape * z) * z^k, k = 0 to 20, at one point: the hazard sums of all points around follow, as far away
 * as profiles of thirty failures go. Slower to take than a short series, which a single Newton step needs. `magnitude` is the last sum with
 * all terms taken as above 0.
 */
export type WideSeries = { at: LevelAndShape; sums: Float64Array; magnitude: number };

/** Lives, none of which failed within an interval, whose hazard sums are known by series. */
export type LivesBySeries = ExactFailures & {
  /** Writes the hazard sums at a point; false where no series reaches it. */
  sumsAt(level: number, shape: number, out: HazardSums): boolean;
};

export const ORDER = 20;
/** Share of the second sum that the last term of its series may come to. */
const SMALL_TERM = 1e-12;
const INVERSE = Float64Array.from({ length: ORDER + 1 }, (_, k) => 1 / k);

export function wideSeries({ z, weight }: Pick<GatheredLives, "z" | "weight">, at: LevelAndShape): WideSeries {
  const { level, shape } = at;
  const sums = new Float64Array(ORDER + 1);
  let below = 0;
  for (let term = 0; term < z.length; term++) {
    const last = addPowers(sums, z[term]!, weight[term]! * expByTable(level + shape * z[term]!));
    below += Math.min(last, 0);
  }
  return { at, sums, magnitude: sums[ORDER]! - 2 * below };
}

/** Adds hazard * z^k, k = 0 to 20, to sums; the last of them is given. */
export function addPowers(sums: Float64Array, z: number, hazard: number): number {
  const square = z * z;
  // Two chains of products, since one would wait for itself.
  let even = hazard;
  let odd = hazard * z;
  for (let k = 0; k < ORDER; k += 2) {
    sums[k]! += even;
    sums[k + 1]! += odd;
    even *= square;
    odd *= square;
  }
  sums[ORDER]! += even;
  return even;
}

/**
 * The hazard sums at a point, by Taylor's series in the shape; by level they change as a whole.
 * @returns null where the point is too far away for all digits
 */
export function hazardSumsAround(series: WideSeries, { level, shape }: LevelAndShape): HazardSums | null {
  const sums = { zero: 0, one: 0, two: 0 };
  return sumsAround(series, level, shape, sums) ? sums : null;
}

/** The same in plain numbers; whether the point is near enough. */
export function sumsAround(
  { at, sums, magnitude }: WideSeries,
  level: number,
  shape: number,
  out: HazardSums,
): boolean {
  const by = shape - at.shape;
  let zero = sums[0]!;
  let one = sums[1]!;
  let two = sums[2]!;
  let power = 1;
  for (let k = 1; k <= ORDER - 2; k++) {
    power *= by * INVERSE[k]!;
    zero += power * sums[k]!;
    one += power * sums[k + 1]!;
    two += power * sums[k + 2]!;
  }
  const factor = Math.exp(level - at.level);
  out.zero = factor * zero;
  out.one = factor * one;
  out.two = factor * two;
  return Math.abs(power) * magnitude <= SMALL_TERM * Math.abs(two);
}

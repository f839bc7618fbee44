import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import type { HazardSums, LevelAndShape } from "./log-likelihood.ts";

/**
 * Sums over the terms of weight * exp(level + shape * z) * z^k, k = 0 to 20, at one point: the hazard sums of all points around follow, as far away
 * as profiles of thirty failures go. Slower to take than a short series, which a single Newton step needs.
 */
export type WideSeries = { at: LevelAndShape; sums: Float64Array; magnitude: number };

const ORDER = 20;
/** Share of the second sum that the last term of its series may come to. */
const SMALL_TERM = 1e-12;

export function wideSeries({ z, weight }: Pick<GatheredLives, "z" | "weight">, at: LevelAndShape): WideSeries {
  const { level, shape } = at;
  const sums = new Float64Array(ORDER + 1);
  let magnitude = 0;
  for (let term = 0; term < z.length; term++) {
    const position = z[term]!;
    let power = weight[term]! * expByTable(level + shape * position);
    for (let k = 0; k < ORDER; k++) {
      sums[k]! += power;
      power *= position;
    }
    sums[ORDER]! += power;
    magnitude += Math.abs(power);
  }
  return { at, sums, magnitude };
}

/**
 * The hazard sums at a point, by Taylor's series in the shape; by level they change as a whole.
 * @returns null where the point is too far away for all digits
 */
export function hazardSumsAround(
  { at, sums, magnitude }: WideSeries,
  { level, shape }: LevelAndShape,
): HazardSums | null {
  const by = shape - at.shape;
  let zero = 0;
  let one = 0;
  let two = 0;
  let power = 1;
  for (let k = 0; k <= ORDER - 2; k++) {
    if (k > 0) power *= by / k;
    zero += power * sums[k]!;
    one += power * sums[k + 1]!;
    two += power * sums[k + 2]!;
  }
  if (!(Math.abs(power) * magnitude <= SMALL_TERM * Math.abs(two))) return null;
  const factor = Math.exp(level - at.level);
  return { zero: factor * zero, one: factor * one, two: factor * two };
}

import { fQuantile } from "../f-quantile.ts";
import { fTail } from "../f-tail.ts";
import { checkedLevel } from "../level.ts";

/** What readings of one group have in common, against what they differ by. No figure is of any one group. */
export type FoundBetweenGroups = {
  groups: number;
  readings: number;
  /** Standard deviations, in the unit of the readings. */
  betweenSd: number;
  withinSd: number;
  /** Variance between groups over the whole: 0 to 1. */
  share: { estimate: number; low: number; high: number };
  /** Of the F test that groups do not differ. */
  p: number;
  /** Whether the variance between groups came out below 0 and was set to 0. */
  setToZero: boolean;
};

/** Spread between groups, or why there is none to tell. */
export type BetweenGroups = FoundBetweenGroups | { share: null; reason: string };

/**
 * Splits the variation of readings into between and within groups by the analysis of variance, for groups of any sizes:
 * between = (mean square between - mean square within) / n0, n0 = (N - sum n^2 / N) / (k - 1), set to 0 where below. Limits of the share
 * are exact for equal sizes, else approximate with n0 for the size.
 * @param readings - finite
 * @param group - of each reading, from 0; numbers may be left out
 * @param level - confidence level of the share's limits, 0 < level < 1
 * @returns both deviations, the share between groups with limits, p; or the reason why not
 * @throws RangeError for a reading that is no number, a group below 0, columns of unequal length, or a level out of range
 * @see S. R. Searle, G. Casella & C. E. McCulloch, Variance Components, 1992, ch. 3; J. D. Thomas & R. A. Hultquist, Annals of Statistics 6 (1978) 582-587
 * @example betweenGroups(Float64Array.of(4, 4.2, 5, 5.4), Int32Array.of(0, 0, 1, 1), 0.95);
 */
export function betweenGroups(readings: Float64Array, group: Int32Array, level: number): BetweenGroups {
  const tail = (1 - checkedLevel(level)) / 2;
  const sums = sumsOf(readings, group);
  const { groups, size, within, between } = sums;
  if (groups < 2) return { share: null, reason: "there are fewer than two groups" };
  const [above, below] = [groups - 1, readings.length - groups];
  if (below < 1) return { share: null, reason: "no group has two readings" };
  if (within === 0 && between === 0) return { share: null, reason: "all readings are alike" };
  const [one, other] = [between / above, within / below];
  const variance = Math.max(0, (one - other) / size);
  const found = { groups, readings: readings.length, betweenSd: Math.sqrt(variance), withinSd: Math.sqrt(other) };
  if (other === 0) return { ...found, share: { estimate: 1, low: 1, high: 1 }, p: 0, setToZero: false };
  const ratio = one / other;
  const shareAt = (quantile: number) => Math.max(0, (ratio / quantile - 1) / (size + ratio / quantile - 1));
  return {
    ...found,
    share: {
      estimate: variance / (variance + other),
      low: shareAt(fQuantile(1 - tail, above, below)),
      high: shareAt(fQuantile(tail, above, below)),
    },
    p: fTail(ratio, above, below),
    setToZero: one < other,
  };
}

type Sums = {
  groups: number /** A group's readings, as the method counts them. */;
  size: number;
  within: number;
  between: number;
};

function sumsOf(readings: Float64Array, group: Int32Array): Sums {
  checkGrouped(readings, group);
  const found = new Map<number, { count: number; mean: number }>();
  let all = 0;
  for (let row = 0; row < readings.length; row++) {
    const own = found.get(group[row]!) ?? { count: 0, mean: 0 };
    own.count++;
    own.mean += (readings[row]! - own.mean) / own.count;
    all += (readings[row]! - all) / (row + 1);
    found.set(group[row]!, own);
  }
  let [within, between, squares] = [0, 0, 0];
  for (let row = 0; row < readings.length; row++) within += (readings[row]! - found.get(group[row]!)!.mean) ** 2;
  for (const { count, mean } of found.values()) {
    between += count * (mean - all) ** 2;
    squares += count ** 2;
  }
  const size = (readings.length - squares / readings.length) / (found.size - 1);
  return { groups: found.size, size, within, between };
}

function checkGrouped(readings: Float64Array, group: Int32Array): void {
  if (group.length !== readings.length) {
    throw new RangeError(`Cannot compare groups: found ${group.length} groups for ${readings.length} readings`);
  }
  for (let row = 0; row < readings.length; row++) {
    if (group[row]! >= 0 && Number.isFinite(readings[row]!)) continue;
    const found = `${readings[row]} of group ${group[row]}`;
    throw new RangeError(`Cannot compare groups: reading ${row} (counted from 0) is ${found}`);
  }
}

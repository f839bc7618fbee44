import type { RecurrentEvents } from "../recurrent-events.ts";
import { type UnitHistory, unitHistories } from "../unit-histories.ts";
import { convolved, laterLongerChances } from "./later-longer-chances.ts";
import { laterLongerPairs, type PairCount } from "./later-longer-pairs.ts";
import { directionOf, NO_TEST, normalP, type TrendTest } from "./trend-test.ts";
import { gapRounding, wholeGaps } from "./whole-gaps.ts";

/** Reverse-arrangement test: pairs of gaps of one unit of which the later is longer. */
export type ReverseArrangements = TrendTest & {
  /** Pairs of which the later gap is longer, strictly. */
  laterLonger: number;
  /** Pairs of equal gaps. */
  tied: number;
  /** All pairs within units. */
  pairs: number;
  /** Whether p is by counting all orders; else by the normal distribution. */
  exact: boolean;
};

/** So many pairs are counted out; with more, the normal distribution is near enough. */
const MOST_PAIRS = 500;

/**
 * Reverse-arrangement (Mann's) test, of one unit or pooled over units, for gaps of any distribution: no trend means here that the gaps of a unit come in no
 * order. Counts the pairs of a unit's gaps of which the later is longer; p is by all orders of the gaps, ties as they are, up to 500 pairs, else
 * normal with the variance for ties. Right for any number of events, and whether observation ended with an event or not; weaker than tests that take the gaps' lengths.
 * @param events - ages in one unit
 * @returns `statistic` is the normal form, (half of all pairs - later longer - half of the tied) over its standard deviation, above 0 where events come closer together; `events` counts gaps
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see H. B. Mann, Econometrica 13 (1945) 245-259; NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4; M. G. Kendall, Rank Correlation Methods, for ties
 * @example reverseArrangementTest(histories); // ten repairs of the NIST/SEMATECH e-Handbook: { laterLonger: 33, pairs: 45, direction: "improving", ... }
 */
export function reverseArrangementTest(events: RecurrentEvents): ReverseArrangements {
  return reverseArrangementsOf(unitHistories(events));
}

/** The same of histories. */
export function reverseArrangementsOf(units: readonly UnitHistory[]): ReverseArrangements {
  const counts = units
    .map((unit) => laterLongerPairs(wholeGaps(unit), gapRounding(unit)))
    .filter(({ pairs }) => pairs > 0);
  const total = (of: (count: PairCount) => number) => counts.reduce((sum, count) => sum + of(count), 0);
  const found = {
    events: total(({ size }) => size),
    units: counts.length,
    laterLonger: total(({ laterLonger }) => laterLonger),
    tied: total(({ tied }) => tied),
    pairs: total(({ pairs }) => pairs),
  };
  const none = { ...NO_TEST, ...found, exact: false };
  if (found.pairs === 0) return { ...none, reason: "no unit has two whole times between events" };
  if (found.tied === found.pairs) return { ...none, reason: "the times between events of each unit are all equal" };
  const shorter = (found.pairs - found.tied) / 2 - found.laterLonger;
  const statistic = shorter / Math.sqrt(total(varianceOf));
  const exact = found.pairs <= MOST_PAIRS;
  const p = exact ? exactP(counts, found.laterLonger) : normalP(statistic);
  return { statistic, p, direction: directionOf(shorter), ...found, exact };
}

function varianceOf({ size, repeats }: PairCount): number {
  const part = (number: number) => number * (number - 1) * (2 * number + 5);
  return (part(size) - repeats.reduce((sum, number) => sum + part(number), 0)) / 72;
}

function exactP(counts: PairCount[], laterLonger: number): number {
  let chances: Float64Array = Float64Array.of(1);
  for (const { repeats } of counts) chances = convolved(chances, laterLongerChances(repeats));
  const add = (sum: number, chance: number) => sum + chance;
  const fewer = chances.subarray(0, laterLonger + 1).reduce(add, 0);
  const more = chances.subarray(laterLonger).reduce(add, 0);
  return Math.min(1, 2 * Math.min(fewer, more));
}

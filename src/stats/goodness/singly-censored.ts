import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { tally } from "../tally.ts";
import { ticksOf } from "../ticks.ts";
import { lengthRefusal } from "../weibull/refusal.ts";

/** Lives that all failed, or of which those that had not were all suspended at one age, not below that of the last failure. */
export type SinglyCensored = {
  /** Ages at failure, ascending and distinct, and how many failed at each. */
  age: Float64Array;
  count: Float64Array;
  /** Lives, and those of them that failed. */
  size: number;
  failures: number;
  /** Age at which the others were suspended; null where all failed. */
  end: number | null;
};

/**
 * Sorts lives out for statistics that compare a whole curve with its fit.
 * @returns what was found, or why these lives allow no such statistic
 * @throws RangeError for columns that are not lives
 */
export function singlyCensored(lives: Lives | IntervalLives): SinglyCensored | { refused: string } {
  const columns = checkedLives(lives);
  const refused = kindRefusal(columns) ?? lengthRefusal(columns);
  if (refused !== null) return { refused };
  const { low, high, count } = columns;
  const ticks = ticksOf(low);
  const flags = Uint8Array.from(high, (end) => (end === Number.POSITIVE_INFINITY ? 0 : 1));
  const failed = tally({ values: low, count, flags, is: 1 }, ticks);
  const suspended = tally({ values: low, count, flags, is: 0 }, ticks);
  const failures = sumOf(failed.count);
  const last = failed.value[failed.value.length - 1];
  if (last === undefined) return { refused: "there are no failures" };
  const end = suspended.value[0] ?? null;
  if (suspended.value.length > 1)
    return { refused: `lives were suspended at ${suspended.value.length} different ages` };
  if (end !== null && end < last) return { refused: "lives were suspended before the last failure" };
  return { age: failed.value, count: failed.count, size: failures + sumOf(suspended.count), failures, end };
}

function kindRefusal({ low, high, entry, count }: IntervalLives): string | null {
  for (let life = 0; life < low.length; life++) {
    if (count?.[life] === 0) continue;
    if ((entry?.[life] ?? 0) > 0) return "some lives came under observation late";
    if (high[life] !== low[life] && high[life] !== Number.POSITIVE_INFINITY) {
      return "some failures are known only to lie within an interval";
    }
  }
  return null;
}

function sumOf(counts: Float64Array): number {
  return counts.reduce((sum, count) => sum + count, 0);
}

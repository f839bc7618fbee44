import { checkedLives, checkLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";

/** Lives of the most common kind: exact or right-censored, from the start, each a row. */
export type PlainLives = Pick<Lives, "time" | "failed">;

/**
 * Lives checked, and as they are where they are plain, else as intervals.
 * @throws RangeError for columns that are not lives
 */
export function plainOrIntervals(lives: Lives | IntervalLives): PlainLives | IntervalLives {
  if (!("time" in lives) || lives.entry !== undefined || lives.count !== undefined) return checkedLives(lives);
  checkLives(lives);
  return lives;
}

/** How many rows there are. */
export function rowsOf(lives: PlainLives | IntervalLives): number {
  return "time" in lives ? lives.time.length : lives.low.length;
}

/** How many lives each row stands for, where rows do. */
export function countsOf(lives: PlainLives | IntervalLives): Float64Array | undefined {
  return "time" in lives ? undefined : lives.count;
}

import type { Trend, TrendTest } from "./recurrence-answer.ts";

/** Which way the tests that see a trend beyond chance point; `seen` of `tests` see one. */
export type TrendDirection = {
  direction: NonNullable<TrendTest["direction"]> | "tests disagree" | null;
  seen: number;
  tests: number;
};

/** A test points somewhere whatever chance does: only those beyond it are asked. */
export function trendDirection(trend: Trend, level: number): TrendDirection {
  const tests = Object.values(trend).filter(({ p }) => p !== null);
  const seen = tests.filter((test) => isBeyondChance(test, level));
  const ways = new Set(seen.map(({ direction }) => direction));
  const [way = null] = ways;
  return { direction: ways.size > 1 ? "tests disagree" : way, seen: seen.length, tests: tests.length };
}

/** Whether so much would be seen without a trend less often than limits miss. */
export function isBeyondChance({ p }: TrendTest, level: number): boolean {
  return p !== null && p < 1 - level;
}

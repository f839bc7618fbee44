/** Ages by their logs, and how many lives at each. */
export type LogAges = { log: Float64Array; count: Float64Array };

/** Failures within intervals by the logs of their ends; a low end of -Infinity is left-censored. */
type LogIntervals = { low: Float64Array; high: Float64Array; count: Float64Array };

/** All that a likelihood needs of lives: failures and removals at known ages, late entries, failures within intervals. */
export type LogTerms = { exact: LogAges; removed: LogAges; entered: LogAges; within: LogIntervals };

/** How many failures terms hold. */
export function failuresIn({ exact, within }: LogTerms): number {
  return sum(exact.count) + sum(within.count);
}

function sum(counts: Float64Array): number {
  let total = 0;
  for (let term = 0; term < counts.length; term++) total += counts[term]!;
  return total;
}

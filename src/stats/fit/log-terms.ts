/** Ages by their logs, and how many lives at each. */
export type LogAges = { log: Float64Array; count: Float64Array };

/** Failures within intervals by the logs of their ends; a low end of -Infinity is left-censored. */
type LogIntervals = { low: Float64Array; high: Float64Array; count: Float64Array };

/** All that a likelihood needs of lives: failures and removals at known ages, late entries, failures within intervals. */
export type LogTerms = { exact: LogAges; removed: LogAges; entered: LogAges; within: LogIntervals };

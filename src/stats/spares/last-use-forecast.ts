import { checkedAmount, checkedWhole } from "./check-chances.ts";
import { poissonCounts } from "./poisson-counts.ts";

/**
 * The plainest forecast: as much as last time, with Poisson noise about it. After a time without use it is sure that none will come,
 * which is what is wrong with it.
 * @param used - pieces used last time: a whole number, 0 or more
 * @param ratio - of the time ahead to that time: 0 or more, 1 where not given
 * @returns the chance of each count, from 0 on
 * @throws RangeError if an argument lies outside its range
 * @see R. J. Hyndman & G. Athanasopoulos, Forecasting: Principles and Practice, ch. 5 (simple methods)
 * @example lastUseForecast(3)[3]; // 0.224042
 */
export function lastUseForecast(used: number, ratio: number = 1): Float64Array {
  return poissonCounts(checkedWhole("a count", used, 0) * checkedAmount("ratio", ratio));
}

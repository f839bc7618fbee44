import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { type AgeTerms, ageTerms } from "./age-terms.ts";
import { type IntervalTerms, intervalTerms } from "./interval-terms.ts";
import { type Refusal, refusalOf } from "./refusal.ts";

/**
 * All that the Weibull likelihood needs of a set of lives: identical terms once, ages as z = log(age) - typicalLog,
 * which are of order 1 whatever the unit of the ages.
 */
export type GatheredLives = {
  /** Mean log age at failure. */
  typicalLog: number;
  /** Standard deviation of z over the failures. */
  spread: number;
  /** Failures of any kind: exact, left- and interval-censored. */
  failures: number;
  /** Exact failures, and their sum of z. */
  exact: number;
  exactSum: number;
  /** Terms weight * (cumulative hazard at z). */
  z: Float64Array;
  weight: Float64Array;
  /** Interval-censored lives: z of the low end (-Infinity: left-censored), log(high / low) or z of the high end, their number. */
  lowZ: Float64Array;
  highZ: Float64Array;
  width: Float64Array;
  intervalCount: Float64Array;
};

/**
 * Gathers lives for the Weibull functions, which take the result in place of the lives: worth it when several are called.
 * @returns what was gathered, or why no fit is possible
 * @throws RangeError for columns that are not lives
 */
export function gatherLives(lives: Lives | IntervalLives): GatheredLives | Refusal {
  const columns = checkedLives(lives);
  const refusal = refusalOf(columns);
  if (refusal !== null) return refusal;
  const terms = ageTerms(columns);
  const intervals = intervalTerms(columns);
  const middle = failureMoments(terms, intervals);
  const z = terms.age.map((age) => Math.log(age) - middle.mean);
  const exactSum = terms.exact.reduce((sum, count, term) => sum + (count > 0 ? count * z[term]! : 0), 0);
  return {
    typicalLog: middle.mean,
    spread: middle.spread,
    failures: middle.failures,
    exact: terms.exact.reduce((sum, count) => sum + count, 0),
    exactSum,
    z,
    weight: terms.weight,
    lowZ: intervals.low.map((low) => Math.log(low) - middle.mean),
    highZ: intervals.high.map((high) => Math.log(high) - middle.mean),
    width: intervals.low.map((low, term) => Math.log1p((intervals.high[term]! - low) / low)),
    intervalCount: intervals.count,
  };
}

/** Number, mean and standard deviation of log age at failure, an interval standing at its middle on the log scale. */
function failureMoments(terms: AgeTerms, intervals: IntervalTerms): { failures: number; mean: number; spread: number } {
  const middles = intervals.high.map((high, term) => {
    const low = intervals.low[term]!;
    return low === 0 ? Math.log(high) - 0.5 : (Math.log(low) + Math.log(high)) / 2;
  });
  const over = (value: (log: number) => number) =>
    terms.exact.reduce((sum, count, term) => (count > 0 ? sum + count * value(Math.log(terms.age[term]!)) : sum), 0) +
    intervals.count.reduce((sum, count, term) => sum + count * value(middles[term]!), 0);
  const failures = over(() => 1);
  const mean = over((log) => log) / failures;
  return { failures, mean, spread: Math.sqrt(over((log) => (log - mean) ** 2) / failures) };
}

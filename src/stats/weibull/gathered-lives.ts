import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { ageTerms } from "./age-terms.ts";
import { intervalTerms } from "./interval-terms.ts";
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
  /** Exact failures. */
  exact: number;
  /** Their sum of z. */
  exactSum: number;
  /** z of each term weight * (cumulative hazard at z). */
  z: Float64Array;
  /** As long as `z`. */
  weight: Float64Array;
  /** Of each row of interval-censored lives, z of the low end; -Infinity where left-censored. The next three are as long. */
  lowZ: Float64Array;
  /** z of the high end. */
  highZ: Float64Array;
  /** log(high / low). */
  width: Float64Array;
  /** How many lives the row stands for. */
  intervalCount: Float64Array;
};

/**
 * Gathers lives for the Weibull functions, which take the result in place of the lives: worth it when several are called.
 * @param lives - the lives, all ages in one unit
 * @returns what was gathered, or why no fit is possible
 * @throws RangeError for columns that are not lives
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 (the likelihood)
 * @example const gathered = gatherLives(lives); if (!("refused" in gathered)) fitWeibull(gathered);
 */
export function gatherLives(lives: Lives | IntervalLives): GatheredLives | Refusal {
  const columns = checkedLives(lives);
  return refusalOf(columns) ?? gatherTerms(columns);
}

/**
 * Gathers lives whether or not a fit of their own is possible: beside others they may still count.
 * Without failures the typical age is that of the ends, and the spread 0.
 */
export function gatherTerms(columns: IntervalLives): GatheredLives {
  const terms = ageTerms(columns);
  const intervals = intervalTerms(columns);
  const z = logs(terms.age);
  const lowZ = logs(intervals.low);
  const highZ = logs(intervals.high);
  const found = failureMoments({ z, count: terms.exact }, { lowZ, highZ, count: intervals.count });
  const { ofExact, failures } = found;
  const typicalLog = failures === 0 ? moments(z, terms.weight.map(onlyEnds)).mean : found.typicalLog;
  for (const column of [z, lowZ, highZ]) shift(column, typicalLog);
  return {
    typicalLog,
    spread: failures === 0 ? 0 : found.spread,
    failures,
    exact: ofExact.count,
    exactSum: ofExact.count * (ofExact.mean - typicalLog),
    z,
    weight: terms.weight,
    lowZ,
    highZ,
    width: intervals.low.map((low, term) => Math.log1p((intervals.high[term]! - low) / low)),
    intervalCount: intervals.count,
  };
}

type LogAges = { z: Float64Array; count: Float64Array };
type LogIntervals = { lowZ: Float64Array; highZ: Float64Array; count: Float64Array };

/** Number, mean and standard deviation of the log ages at failure. */
export function failureMoments(exact: LogAges, { lowZ, highZ, count }: LogIntervals) {
  const ofExact = moments(exact.z, exact.count);
  const ofIntervals = moments(
    highZ.map((high, term) => middleOf(lowZ[term]!, high)),
    count,
  );
  const failures = ofExact.count + ofIntervals.count;
  const typicalLog = (ofExact.count * ofExact.mean + ofIntervals.count * ofIntervals.mean) / failures;
  const squares = aboutTypical(ofExact, typicalLog) + aboutTypical(ofIntervals, typicalLog);
  return { ofExact, failures, typicalLog, spread: Math.sqrt(squares / failures) };
}

/** The lives that end at an age, as far as they outnumber those that enter there. */
function onlyEnds(weight: number): number {
  return Math.max(0, weight);
}

function logs(ages: Float64Array): Float64Array {
  const found = new Float64Array(ages.length);
  for (let term = 0; term < ages.length; term++) found[term] = Math.log(ages[term]!);
  return found;
}

function shift(column: Float64Array, by: number): void {
  for (let term = 0; term < column.length; term++) column[term]! -= by;
}

/** Where a failure within an interval stands when a start is looked for, on the log scale. */
function middleOf(low: number, high: number): number {
  return low === Number.NEGATIVE_INFINITY ? high - 0.5 : (low + high) / 2;
}

type Moments = { count: number; mean: number; squares: number };

/** Number, mean and sum of squares about the mean; a mean of 0 for none. */
function moments(values: Float64Array, counts: Float64Array): Moments {
  let count = 0;
  let sum = 0;
  for (let term = 0; term < values.length; term++) {
    if (counts[term] === 0) continue;
    count += counts[term]!;
    sum += counts[term]! * values[term]!;
  }
  const mean = count === 0 ? 0 : sum / count;
  let squares = 0;
  for (let term = 0; term < values.length; term++) squares += counts[term]! * (values[term]! - mean) ** 2;
  return { count, mean, squares };
}

function aboutTypical({ count, mean, squares }: Moments, typicalLog: number): number {
  return squares + count * (mean - typicalLog) ** 2;
}

import type { AgeTerms } from "./age-terms.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import type { IntervalTerms } from "./interval-terms.ts";

/** Gathers lives that are summed up by their ages. */
export function gatheredTerms(terms: AgeTerms, intervals: IntervalTerms): GatheredLives {
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

import { meanSpread } from "./mean-spread.ts";

/** Limits of an individuals and moving-range chart, in the unit of the readings. */
export type ChartLimits = {
  /** Mean of the readings. */
  centre: number;
  /** Of one reading, from the mean moving range: what neighbours differ by, not the spread of all. */
  sigma: number;
  low: number;
  high: number;
  /** Of ranges between neighbours: mean and upper limit; there is no lower one. */
  range: { centre: number; high: number };
};

/** An individuals and moving-range chart: `ranges[i]` is what reading i + 1 differs by from reading i. */
export type IndividualsChart = { limits: ChartLimits; ranges: Float64Array } | { limits: null; reason: string };

/** Mean range of two normal values, 2 / sqrt(pi) = 1.128 of their deviation: d2 of the published tables. */
export const MEAN_RANGE_OF_TWO = 2 / Math.sqrt(Math.PI);

/** 1 + 3 d3 / d2 = 3.267 with d3 = sqrt(2 - 4 / pi), the deviation of that range: D4 of the published tables. */
const RANGE_LIMIT = 1 + (3 * Math.sqrt(2 - 4 / Math.PI)) / MEAN_RANGE_OF_TWO;

/**
 * Limits of an individuals and moving-range chart: mean -+ 3 / d2 mean moving range (2.66 times it), and D4 = 3.267 times it for the
 * ranges. They come from the readings, and say what is usual; the window comes from the maker, and says what is right.
 * @param readings - in the order in which they were taken, finite; 20 or more for limits to lean on
 * @param baseline - how many of the first readings the limits come from, all where not given
 * @returns limits and ranges between neighbours, or the reason why there are none
 * @throws RangeError for a reading that is no number, or a baseline out of range
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2; D. C. Montgomery, Introduction to Statistical Quality Control, appendix of factors
 * @example individualsChart(Float64Array.of(49.6, 47.6, 49.9, 51.3, 47.8)).limits; // centre 49.24, from 43.12 to 55.36
 */
export function individualsChart(readings: Float64Array, baseline = readings.length): IndividualsChart {
  const wrong = readings.findIndex((reading) => !Number.isFinite(reading));
  if (wrong >= 0) {
    throw new RangeError(`Cannot draw a chart: reading ${wrong} (counted from 0) is ${readings[wrong]}`);
  }
  if (!(Number.isInteger(baseline) && baseline >= 0 && baseline <= readings.length)) {
    throw new RangeError(`Cannot draw a chart: a baseline of ${baseline} readings out of ${readings.length}`);
  }
  if (baseline < 2) return { limits: null, reason: "limits take two readings or more" };
  const ranges = Float64Array.from({ length: readings.length - 1 }, (_, at) =>
    Math.abs(readings[at + 1]! - readings[at]!),
  );
  const centre = meanSpread(readings.subarray(0, baseline)).mean!;
  const range = meanSpread(ranges.subarray(0, baseline - 1)).mean!;
  if (range === 0) return { limits: null, reason: "all readings that limits would come from are alike" };
  const sigma = range / MEAN_RANGE_OF_TWO;
  const limits = { centre, sigma, low: centre - 3 * sigma, high: centre + 3 * sigma };
  return { limits: { ...limits, range: { centre: range, high: RANGE_LIMIT * range } }, ranges };
}

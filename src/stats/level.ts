import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";

/**
 * Half-width, in standard errors, of a two-sided normal interval: z with P(-z < Z < z) = level.
 * @param level - confidence level, 0 < level < 1
 * @returns a number of standard errors, above 0
 * @throws RangeError if `level` lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example normalHalfWidth(0.95); // 1.959964
 */
export function normalHalfWidth(level: number): number {
  return normalQuantile((1 + checkedLevel(level)) / 2, 0, 1);
}

/**
 * What twice a log-likelihood ratio on one parameter stays below with probability `level`: the chi-square quantile, 1 degree.
 * @param level - confidence level, 0 < level < 1
 * @returns a cut-off above 0, no unit
 * @throws RangeError if `level` lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example likelihoodCutOff(0.95); // 3.841459
 */
export function likelihoodCutOff(level: number): number {
  return chiSquareQuantile(checkedLevel(level), 1);
}

/** @throws RangeError unless 0 < level < 1 */
export function checkedLevel(level: number): number {
  if (!(level > 0 && level < 1))
    throw new RangeError(`Cannot take limits: the level must lie in (0, 1), found ${level}`);
  return level;
}

import { checkChances } from "./check-chances.ts";

/** Mean and variance of a count. */
export type CountMoments = { mean: number; variance: number };

/**
 * Mean and variance of a count.
 * @param chances - of each count, from 0 on
 * @returns both, the variance about the mean
 * @throws RangeError for what are not chances
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 9
 * @example countMoments(poissonCounts(2.5)).variance; // 2.5
 */
export function countMoments(chances: Float64Array): CountMoments {
  checkChances(chances);
  let mean = 0;
  for (let k = chances.length - 1; k > 0; k--) mean += k * chances[k]!;
  let variance = 0;
  for (let k = chances.length - 1; k >= 0; k--) variance += (k - mean) ** 2 * chances[k]!;
  return { mean, variance };
}

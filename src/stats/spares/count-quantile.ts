import { checkChances } from "./check-chances.ts";

/** What sums of chances are off by. */
const ROUNDING = 1e-14;

/**
 * Smallest count that is not exceeded with a chance of p or more: of a demand, the smallest stock s with P(D <= s) >= p.
 * @param chances - of each count, from 0 on
 * @param p - 0 < p < 1, as 0.95
 * @returns a count
 * @throws RangeError for what are not chances, or a p out of range
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 9
 * @example countQuantile(poissonCounts(104), 0.95); // 121
 */
export function countQuantile(chances: Float64Array, p: number): number {
  checkChances(chances);
  if (!(p > 0 && p < 1)) throw new RangeError(`Cannot take a quantile of a count: p must lie in (0, 1), found ${p}`);
  let sum = 0;
  for (let k = 0; k < chances.length; k++) {
    sum += chances[k]!;
    if (sum >= p - ROUNDING) return k;
  }
  return chances.length - 1;
}

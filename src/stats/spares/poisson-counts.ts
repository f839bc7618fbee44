import { negativeBinomialCounts } from "./negative-binomial-counts.ts";

/**
 * Chances of a Poisson count: exp(-mean) mean^k / k!.
 * @param mean - 0 or more
 * @returns the chance of each count, from 0 on, up to where less than 1e-15 is left
 * @throws RangeError for a mean below 0, or too large to hold its counts
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 6
 * @example poissonCounts(1.25)[0]; // 0.286505
 */
export function poissonCounts(mean: number): Float64Array {
  return negativeBinomialCounts(mean, 0);
}

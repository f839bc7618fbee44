/** Degrees of freedom are at least this share of those that terms from a normal distribution would give. */
const LEAST_DEGREES = 0.25;

/**
 * Mean and jackknife standard error of values that each lack one cluster, and the degrees of freedom of that error.
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 10 and 11
 */
export function jackknifeSpread(values: readonly number[]): { mean: number; error: number; degrees: number } {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const fourths = values.reduce((sum, value) => sum + (value - mean) ** 4, 0);
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

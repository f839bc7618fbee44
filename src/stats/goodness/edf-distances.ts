/** Failures as seen by the distribution that they are held against, ascending; logs, so that neither tail loses digits. */
export type EdfSample = {
  /** Log of the fraction failed by each age at failure. */
  logFailed: Float64Array;
  /** Log of the fraction unfailed at it. */
  logSurvival: Float64Array;
  /** How many failed at it. */
  count: Float64Array;
  /** All lives, with those unfailed. */
  size: number;
  /** The same logs at the age where the unfailed were suspended; null where all failed. */
  end: { logFailed: number; logSurvival: number } | null;
};

/** Distances of the empirical distribution from another; 0 or more, larger is worse. */
export type EdfDistances = { andersonDarling: number; cramerVonMises: number; kolmogorovSmirnov: number };

/**
 * Distances between the empirical distribution function of n lives and a distribution, over what was watched: with u the fraction
 * failed of the distribution, t its value at the age of suspension (1 where all failed), and F the empirical fraction,
 * Anderson-Darling n * integral from 0 to t of (F - u)^2 / (u (1 - u)) du, Cramer-von Mises n * integral of (F - u)^2 du,
 * Kolmogorov-Smirnov the largest |F - u|. In closed form, with z_i the fraction failed by the i-th of r failures:
 * A2 = -(1/n) sum (2 i - 1) [ln z_i - ln(1 - z_i)] - 2 sum ln(1 - z_i) - (1/n) [(r - n)^2 ln(1 - t) - r^2 ln t + n^2 t],
 * W2 = sum (z_i - (2 i - 1) / (2 n))^2 + r / (12 n^2) + (n / 3) (t - r / n)^3.
 * @see M. A. Stephens in R. B. D'Agostino and M. A. Stephens, Goodness-of-Fit Techniques, 1986, 4.7 (singly censored samples)
 * @example edfDistances({ logFailed, logSurvival, count, size: 23, end: null }).andersonDarling;
 */
export function edfDistances({ logFailed, logSurvival, count, size, end }: EdfSample): EdfDistances {
  let failed = 0;
  let logit = 0;
  let survival = 0;
  let squares = 0;
  let furthest = 0;
  for (let at = 0; at < count.length; at++) {
    const next = failed + count[at]!;
    const z = Math.exp(logFailed[at]!);
    // Over failures at one age the weights 2 i - 1 add up to the difference of two squares.
    logit += (next * next - failed * failed) * (logFailed[at]! - logSurvival[at]!);
    survival += count[at]! * logSurvival[at]!;
    squares += count[at]! * (z - (failed + next) / (2 * size)) ** 2 + count[at]! ** 3 / (12 * size * size);
    furthest = Math.max(furthest, next / size - z, z - failed / size);
    failed = next;
  }
  const t = end === null ? 1 : Math.exp(end.logFailed);
  const unfailed = failed - size;
  const rest = end === null ? 0 : unfailed * unfailed * end.logSurvival - failed * failed * end.logFailed;
  return {
    andersonDarling: -logit / size - 2 * survival - (rest + size * size * t) / size,
    cramerVonMises: squares + (size / 3) * (t - failed / size) ** 3,
    kolmogorovSmirnov: Math.max(furthest, t - failed / size),
  };
}

import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";

/**
 * Value that a variable of the F distribution stays below with probability `p`.
 * @param p - 0 < p < 1
 * @param above - degrees of freedom of the numerator, above 0
 * @param below - of the denominator, above 0; neither need be whole
 * @throws RangeError if an argument lies outside its range
 * @see NIST Digital Library of Mathematical Functions, 8.17 (the incomplete beta function)
 * @example fQuantile(0.95, 2, 18); // 3.5546
 */
export function fQuantile(p: number, above: number, below: number): number {
  const possible = p > 0 && p < 1 && above > 0 && below > 0 && above + below < Number.POSITIVE_INFINITY;
  if (!possible) throw new RangeError(`Cannot take an F quantile: found ${p} with ${above} and ${below} degrees`);
  if (p > 0.5) return 1 / fQuantile(1 - p, below, above);
  const share = betaQuantile(p, above / 2, below / 2);
  return ((below / above) * share) / (1 - share);
}

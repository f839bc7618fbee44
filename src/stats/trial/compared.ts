/**
 * What is compared: two groups, the first with `share` of the units (above 0, below 1), or a measured value that has `variance` over the
 * units (above 0; in the presence of other covariates the part that they do not explain).
 */
export type Compared = { share: number } | { variance: number };

/**
 * Variance over the units of what is compared: share (1 - share) for two groups.
 * @throws RangeError for a share or a variance out of range
 */
export function varianceOf(compared: Compared): number {
  if ("variance" in compared) {
    const { variance } = compared;
    if (variance > 0 && variance < Number.POSITIVE_INFINITY) return variance;
    throw new RangeError(`Cannot size a trial: the variance must be above 0 and finite, found ${variance}`);
  }
  const { share } = compared;
  if (share > 0 && share < 1) return share * (1 - share);
  throw new RangeError(`Cannot size a trial: the share must lie in (0, 1), found ${share}`);
}

/**
 * log of a ratio that is to be seen.
 * @throws RangeError for 1, where there is nothing to see, and for what is no ratio
 */
export function logRatio(name: string, ratio: number): number {
  if (ratio > 0 && ratio < Number.POSITIVE_INFINITY && ratio !== 1) return Math.log(ratio);
  throw new RangeError(`Cannot size a trial: the ${name} must be above 0, finite and other than 1, found ${ratio}`);
}

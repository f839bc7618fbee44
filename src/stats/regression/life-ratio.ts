import type { Interval } from "../fit/quantity.ts";

/**
 * How many times as long lives last: exp of a contrast on log time and of its limits.
 * @param contrast - from `waldContrast` or `jackknifeContrast`
 * @returns a ratio without unit; a limit beyond the range of numbers is null, with the reason
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example lifeRatio(waldContrast(fit.coefficients, fit.covariance, [0, 1], 0.95));
 */
export function lifeRatio({ estimate, low, high }: { estimate: number; low: number; high: number }): Interval {
  const ratio = { estimate: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high) };
  if (ratio.high < Number.POSITIVE_INFINITY) return ratio;
  return ratio.low < Number.POSITIVE_INFINITY
    ? { ...ratio, high: null, reason: `no upper limit: ${BEYOND}` }
    : { ...ratio, low: null, high: null, reason: `no lower and no upper limit: ${BEYOND}` };
}

const BEYOND = "it lies beyond the range of numbers";

import type { Family } from "../distribution/family.ts";
import { normalHalfWidth } from "../level.ts";
import type { ConvergedFit } from "./fit.ts";
import { workingEstimate } from "./working-estimate.ts";

/** A point of a fitted line on probability paper: fraction failed at an age, with limits for that age alone. */
export type LinePoint = { time: number; fractionFailed: number; low: number; high: number };

/**
 * The fitted line with pointwise limits of the fraction failed: normal (Wald) on the log(-log S) scale, not simultaneous over ages.
 * @param family - of the fit
 * @param fit - the distribution fitted
 * @param times - ages above 0
 * @param level - confidence level, 0 < level < 1
 * @returns a point for each age, in their order
 * @throws RangeError if an age or the level lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example lineLimits(family, fit, Float64Array.of(1000, 2000), 0.95);
 */
export function lineLimits(family: Family, fit: ConvergedFit, times: Float64Array, level: number): LinePoint[] {
  const half = normalHalfWidth(level);
  return Array.from(times, (time) => {
    const { estimate, error } = workingEstimate(family, fit, { kind: "survival", time });
    const [fractionFailed, low, high] = [estimate, estimate - half * error, estimate + half * error].map(failedBy);
    return { time, fractionFailed: fractionFailed!, low: low!, high: high! };
  });
}

/** Fraction failed from the log of the cumulative hazard, small ones too. */
function failedBy(logHazard: number): number {
  return -Math.expm1(-Math.exp(logHazard));
}

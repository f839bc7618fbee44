import type { Interval } from "../fit/quantity.ts";
import { normalHalfWidth } from "../level.ts";
import { logScaleInterval } from "./log-scale-interval.ts";
import type { ConvergedPowerLaw } from "./power-law.ts";

/** How often a unit has events at an age. */
export type PowerLawRate = {
  age: number;
  /** Events a unit of age. */
  intensity: Interval;
  /** One over it: mean time between events were the rate to stay as it is at that age. */
  meanTime: Interval;
};

/**
 * Intensity lambda beta t^(beta - 1) of a fitted power law at an age, and its inverse, with limits that are normal on the log scale.
 * At an age beyond those observed it is a forecast that trusts the law.
 * @param fit - as `fitPowerLaw` gives it
 * @param age - above 0; `fit.lastEnd` is now, for the unit watched to the highest age
 * @param level - confidence level, 0 < level < 1
 * @returns both with limits; one beyond the range of numbers is null, with the reason
 * @throws RangeError if the age or the level lies outside its range
 * @see IEC 61710 (from memory); W. Q. Meeker & L. A. Escobar, Statistical Methods for Reliability Data, ch. 16
 * @example powerLawRate(fit, fit.lastEnd, 0.95).meanTime;
 */
export function powerLawRate(fit: ConvergedPowerLaw, age: number, level: number): PowerLawRate {
  if (!(age > 0 && age < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take a rate: the age must be above 0, found ${age}`);
  }
  const { beta, logLambda, covariance } = fit;
  const logIntensity = logLambda + Math.log(beta) + (beta - 1) * Math.log(age);
  const byLogBeta = 1 + beta * Math.log(age);
  const variance = byLogBeta ** 2 * covariance.logBeta + 2 * byLogBeta * covariance.both + covariance.logLambda;
  const reach = normalHalfWidth(level) * Math.sqrt(Math.max(0, variance));
  return { age, intensity: logScaleInterval(logIntensity, reach), meanTime: logScaleInterval(-logIntensity, reach) };
}

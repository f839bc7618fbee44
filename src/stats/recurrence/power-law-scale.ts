import { intervalAround } from "../fit/interval-around.ts";
import type { Interval } from "../fit/quantity.ts";
import { normalHalfWidth } from "../level.ts";
import type { ConvergedPowerLaw } from "./power-law.ts";

/**
 * Scale of a fitted power law, the age up to which a unit has one event on average, eta = lambda^(-1 / beta), with limits that are
 * normal on the log scale: log eta = -log(lambda) / beta, so its variance is
 * (log(lambda) / beta)^2 var(log beta) - 2 (log(lambda) / beta^2) cov(log beta, log lambda) + var(log lambda) / beta^2.
 * @param fit - as `fitPowerLaw` gives it
 * @param level - confidence level, 0 < level < 1
 * @returns an age in the unit of the events, with limits; one beyond the range of numbers is null, with the reason
 * @throws RangeError if the level lies outside its range
 * @see IEC 61710 (from memory); the variance by the delta method
 * @example powerLawScale(fit, 0.95).estimate;
 */
export function powerLawScale({ beta, logLambda, covariance }: ConvergedPowerLaw, level: number): Interval {
  const ratio = logLambda / beta;
  const variance =
    ratio ** 2 * covariance.logBeta - (2 * ratio * covariance.both) / beta + covariance.logLambda / beta ** 2;
  const reach = normalHalfWidth(level) * Math.sqrt(Math.max(0, variance));
  return intervalAround({ kind: "quantile", p: 0.5 }, -ratio, reach);
}

import type { ConvergedWeibull } from "./fit.ts";
import { waldInterval } from "./wald-interval.ts";

/** A point of a fitted line on probability paper: fraction failed at an age, with limits for that age alone. */
export type LinePoint = { time: number; fractionFailed: number; low: number; high: number };

/**
 * The fitted line with pointwise limits of F(t): normal (Wald) on the log(-log S) scale, not simultaneous over ages.
 * @param times - ages above 0
 * @param level - confidence level, 0 < level < 1
 * @throws RangeError if an age or the level lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example lineLimits(fit, Float64Array.of(1000, 2000), 0.95);
 */
export function lineLimits(fit: ConvergedWeibull, times: Float64Array, level: number): LinePoint[] {
  return Array.from(times, (time) => {
    const survival = waldInterval(fit, { kind: "survival", time }, level);
    return {
      time,
      fractionFailed: -Math.expm1(-((time / fit.scale) ** fit.shape)),
      low: 1 - (survival.high ?? 1),
      high: 1 - (survival.low ?? 0),
    };
  });
}

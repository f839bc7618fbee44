import { emptyTerms, type Family } from "../distribution/family.ts";
import type { ConvergedFit } from "./fit.ts";
import { waldInterval } from "./wald-interval.ts";

/** A point of a fitted line on probability paper: fraction failed at an age, with limits for that age alone. */
export type LinePoint = { time: number; fractionFailed: number; low: number | null; high: number | null };

/**
 * The fitted line with pointwise limits of the fraction failed: normal (Wald) on the log(-log S) scale, not simultaneous over ages.
 * @param times - ages above 0
 * @param level - confidence level, 0 < level < 1
 * @throws RangeError if an age or the level lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example lineLimits(family, fit, Float64Array.of(1000, 2000), 0.95);
 */
export function lineLimits(family: Family, fit: ConvergedFit, times: Float64Array, level: number): LinePoint[] {
  const out = emptyTerms();
  return Array.from(times, (time) => {
    const survival = waldInterval(family, fit, { kind: "survival", time }, level);
    family.logFailed(Math.log(time / fit.scale), Math.log(fit.shape), out);
    return { time, fractionFailed: Math.exp(out.value), low: 1 - (survival.high ?? 1), high: 1 - (survival.low ?? 0) };
  });
}

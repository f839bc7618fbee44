import { normalHalfWidth } from "../level.ts";
import type { ConvergedWeibull } from "./fit.ts";
import { fromWorkingScale, type Interval, type Quantity, quantityOf, workingEstimate } from "./quantity.ts";
import { workingError } from "./working-error.ts";

/**
 * Interval from the normal distribution on the log scale, log(-log) for survival, with a delta-method standard error.
 * @param level - confidence level, 0 < level < 1
 * @throws RangeError if `level`, or the quantity's `p` or `time`, lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example waldInterval(fit, { kind: "quantile", p: 0.1 }, 0.95);
 */
export function waldInterval(fit: ConvergedWeibull, quantity: Quantity, level: number): Interval {
  const middle = workingEstimate(quantity, fit.shape, fit.scale);
  const reach = normalHalfWidth(level) * workingError(fit, quantity);
  const ends = [fromWorkingScale(quantity, middle - reach), fromWorkingScale(quantity, middle + reach)] as const;
  const estimate = quantityOf(quantity, fit.shape, fit.scale);
  return quantity.kind === "survival"
    ? { estimate, low: ends[1], high: ends[0] }
    : { estimate, low: ends[0], high: ends[1] };
}

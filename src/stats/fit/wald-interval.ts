import type { Family } from "../distribution/family.ts";
import { normalHalfWidth } from "../level.ts";
import type { ConvergedFit } from "./fit.ts";
import { intervalAround } from "./interval-around.ts";
import type { Interval, Quantity } from "./quantity.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * Interval from the normal distribution on the log scale, log(-log S) for survivals, with a delta-method standard error.
 * @param family - of the fit
 * @param fit - the distribution fitted
 * @param quantity - what is asked for
 * @param level - confidence level, 0 < level < 1
 * @returns estimate and limits, ages in the unit of the lives; a limit beyond the range of numbers is null, with the reason
 * @throws RangeError if `level` or a number of the quantity lies outside its range, or the mean is infinite (`isInfinite` tells)
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example waldInterval(family, fit, { kind: "quantile", p: 0.1 }, 0.95);
 */
export function waldInterval(family: Family, fit: ConvergedFit, quantity: Quantity, level: number): Interval {
  const { estimate, error } = workingEstimate(family, fit, quantity);
  return intervalAround(quantity, estimate, normalHalfWidth(level) * error);
}

import { checkedLevel } from "../level.ts";
import { constraintOf } from "./constraint.ts";
import { type ConvergedFit, pointOf } from "./fit.ts";
import { profileAt } from "./profile.ts";
import type { Quantity } from "./quantity.ts";
import type { Replicate } from "./replicates.ts";
import type { Surface } from "./surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * What twice the log-likelihood ratio on a quantity stays below with probability `level`, found by drawing: with few failures more than
 * the chi-square quantile. To be given to `profileInterval`.
 * @param surface - the likelihood of the lives
 * @param fit - its maximum
 * @param quantity - what is asked for
 * @param level - confidence level, 0 < level < 1
 * @param list - replicates of the fit; with fewer than level / (1 - level) of them the largest ratio drawn is taken
 * @returns a cut-off above 0, no unit; Infinity where too many replicates allow no value
 * @throws RangeError if there are no replicates, or the level or a number of the quantity lies outside its range
 * @see Davison & Hinkley, Bootstrap Methods and their Application, section 4.4 (likelihood ratios)
 * @example profileInterval(surface, fit, quantity, 0.95, calibratedCutOff(surface, fit, quantity, 0.95, list));
 */
export function calibratedCutOff(
  { family }: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  level: number,
  list: Replicate[],
): number {
  if (list.length === 0) throw new RangeError("Cannot calibrate a cut-off: there are no replicates");
  const place = Math.min(Math.ceil(checkedLevel(level) * (list.length + 1)), list.length);
  const held = workingEstimate(family, fit, quantity).estimate;
  const own = pointOf(fit);
  const ratios = Float64Array.from(list, (drawn) => {
    const constraint = constraintOf(quantity, drawn.surface);
    const near = pointOf(drawn.fit);
    const profile = profileAt(drawn.surface, constraint, held, near) ?? profileAt(drawn.surface, constraint, held, own);
    return profile === null ? Number.POSITIVE_INFINITY : 2 * (drawn.fit.logLikelihood - profile.value);
  }).sort();
  return Math.max(ratios[place - 1]!, Number.MIN_VALUE);
}

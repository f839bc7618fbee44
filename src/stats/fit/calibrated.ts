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
 * @param list - replicates of the fit
 * @see methods of the bootstrap calibration of likelihood ratios: Davison & Hinkley, Bootstrap Methods, ch. 5
 * @throws RangeError if the level or a number of the quantity lies outside its range
 */
export function calibratedCutOff(
  { family }: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  level: number,
  list: Replicate[],
): number {
  const place = Math.min(Math.ceil(checkedLevel(level) * (list.length + 1)), list.length);
  const held = workingEstimate(family, fit, quantity).estimate;
  const constraint = constraintOf(quantity, family);
  const ratios = Float64Array.from(list, (drawn) => {
    const start = pointOf(drawn.fit);
    const near = quantity.kind === "shape" ? { a: start.a, e: held } : start;
    const profile = profileAt(drawn.surface, constraint, held, near);
    return profile === null ? Number.POSITIVE_INFINITY : 2 * (drawn.fit.logLikelihood - profile.value);
  }).sort();
  return Math.max(ratios[place - 1]!, Number.MIN_VALUE);
}

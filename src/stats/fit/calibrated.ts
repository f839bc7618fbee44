import type { Family } from "../distribution/family.ts";
import { checkedLevel } from "../level.ts";
import { constraintOf, type Point } from "./constraint.ts";
import { type ConvergedFit, pointOf } from "./fit.ts";
import { profileAt } from "./profile.ts";
import { profileBySeries } from "./profile-by-series.ts";
import { type Quantity, quantityTerms } from "./quantity.ts";
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
  const quickly = profileBySeries(quantity, held);
  const ratios = Float64Array.from(list, (drawn) => {
    const { bySeries } = drawn.surface;
    const start = () => logShapeNear(drawn.fit, family, quantity, held);
    const most = bySeries === undefined || quickly === null ? Number.NaN : quickly(bySeries, start);
    return 2 * (drawn.fit.logLikelihood - (Number.isNaN(most) ? greatest(drawn, quantity, held, own) : most));
  }).sort();
  return Math.max(ratios[place - 1]!, Number.MIN_VALUE);
}

/** Greatest log-likelihood of a replicate with a quantity held; -Infinity where it allows no such value. */
function greatest({ surface, fit }: Replicate, quantity: Quantity, held: number, from: Point): number {
  const constraint = constraintOf(quantity, surface);
  const profile = profileAt(surface, constraint, held, pointOf(fit)) ?? profileAt(surface, constraint, held, from);
  return profile === null ? Number.NEGATIVE_INFINITY : profile.value;
}

/** Where the likelihood would be greatest with the quantity held, were it as normal as its covariance has it; the fit, where that is far off. */
function logShapeNear(fit: ConvergedFit, family: Family, quantity: Quantity, held: number): number {
  const { a, e } = pointOf(fit);
  const terms = quantityTerms(quantity, family, a, e);
  if (terms === null) return e;
  const [[vScale, across], [, vShape]] = fit.covariance;
  const byScale = terms.a * vScale + terms.e * across;
  const byShape = terms.a * across + terms.e * vShape;
  const step = ((held - terms.value) * byShape) / (terms.a * byScale + terms.e * byShape);
  return Math.abs(step) < FAR ? e + step : e;
}

/** In log shape. */
const FAR = 1;

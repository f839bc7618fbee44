import { checkedLevel } from "../level.ts";
import type { ConvergedFit } from "./fit.ts";
import { intervalAround } from "./interval-around.ts";
import { fromWorkingScale, type Interval, isInfinite, type Quantity } from "./quantity.ts";
import type { Replicate } from "./replicates.ts";
import type { Surface } from "./surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * Bootstrap-t interval: the estimate, and the quantiles of (drawn - estimate) / standard error over the replicates in place of the normal
 * ones, on the log scale, log(-log S) for survivals.
 * @param surface - the likelihood of the lives
 * @param fit - its maximum
 * @param quantity - what is asked for
 * @param level - confidence level, 0 < level < 1
 * @param list - replicates of the fit
 * @returns estimate and limits, ages in the unit of the lives; for a mean that many replicates lack no limits, with the reason
 * @throws RangeError if there are no replicates, the level or a number of the quantity lies outside its range, or the mean is infinite
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 9
 * @example bootstrapInterval(surface, fit, { kind: "quantile", p: 0.1 }, 0.95, list);
 */
export function bootstrapInterval(
  { family }: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  level: number,
  list: Replicate[],
): Interval {
  const tail = (1 - checkedLevel(level)) / 2;
  const { estimate, error } = workingEstimate(family, fit, quantity);
  if (list.length === 0) throw new RangeError("Cannot take a bootstrap interval: there are no replicates");
  const ratios = Float64Array.from(list, (drawn) => {
    if (isInfinite(quantity, family, drawn.fit)) return Number.POSITIVE_INFINITY;
    const own = workingEstimate(family, drawn.fit, quantity);
    return own.error > 0 ? (own.estimate - estimate) / own.error : 0;
  }).sort();
  const at = (share: number) => ratios[Math.min(Math.max(Math.round(share * (list.length + 1)), 1), list.length) - 1]!;
  const [least, most] = [at(tail), at(1 - tail)];
  if (most === Number.POSITIVE_INFINITY) {
    return { estimate: fromWorkingScale(quantity, estimate), low: null, high: null, reason: INFINITE };
  }
  return intervalAround(quantity, estimate, most * error, -least * error);
}

const INFINITE = "no limits: under many of the distributions drawn the mean is infinite";

import { checkedLevel } from "../level.ts";
import type { ConvergedFit } from "./fit.ts";
import { intervalAround } from "./interval-around.ts";
import type { Interval, Quantity } from "./quantity.ts";
import type { Replicate } from "./replicates.ts";
import type { Surface } from "./surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * Bootstrap-t interval: the estimate, and the quantiles of (drawn - estimate) / standard error over the replicates in place of the normal
 * ones, on the log scale, log(-log S) for survivals.
 * @param list - replicates of the fit
 * @throws RangeError if the level or a number of the quantity lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 9
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
  const ratios = Float64Array.from(list, (drawn) => {
    const own = workingEstimate(family, drawn.fit, quantity);
    return (own.estimate - estimate) / own.error;
  }).sort();
  const at = (share: number) => ratios[Math.min(Math.max(Math.round(share * (list.length + 1)), 1), list.length) - 1]!;
  return intervalAround(quantity, estimate, at(1 - tail) * error, -at(tail) * error);
}

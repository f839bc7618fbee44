import { checkedWhole } from "./check-chances.ts";
import { countQuantile } from "./count-quantile.ts";

/**
 * Pinball loss of a forecast's quantile: p (count - q) where the count is q or more, else (1 - p) (q - count). On average least for the
 * forecast whose p quantile is right, so that forecasts can be ranked by it.
 * @param chances - forecast chance of each count, from 0 on
 * @param count - what came: a whole number, 0 or more
 * @param p - 0 < p < 1
 * @returns a loss, in pieces
 * @throws RangeError for what are not chances, no count, or a p out of range
 * @see R. Koenker & G. Bassett, Econometrica 46 (1978) 33-50; T. Gneiting, J. Amer. Statist. Assoc. 106 (2011) 746-762
 * @example pinballLoss(poissonCounts(1.25), 4, 0.9); // 0.9: the quantile is 3
 */
export function pinballLoss(chances: Float64Array, count: number, p: number): number {
  const over = checkedWhole("a count", count, 0) - countQuantile(chances, p);
  return over >= 0 ? p * over : (p - 1) * over;
}

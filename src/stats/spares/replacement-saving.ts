import { checkedLevel } from "../level.ts";
import { sampleQuantile } from "../sample-quantile.ts";
import { costRateAt } from "./cost-rate.ts";
import { replacementAge } from "./replacement-age.ts";
import { checkCosts, type ReplacementCosts } from "./replacement-costs.ts";
import { checkDraws, type WeibullDraws } from "./weibull-draws.ts";

/** What planned replacement at one age saves, under laws that might be true. */
export type ReplacementSaving = {
  /** Share of the run-to-failure cost that is saved, below 0 where it costs more: the middle draw. */
  median: number;
  low: number;
  high: number;
  /** Saved a unit of time, likewise. */
  amount: { median: number; low: number; high: number };
  /** Share of draws under which the age saves anything. */
  chanceOfSaving: number;
  /** Share of draws that have a best age at all, and the limits of those ages; null where fewer than half have one. */
  chanceOfBestAge: number;
  bestAge: { low: number; high: number } | null;
};

/**
 * Saving of planned replacement at an age that is held, under each of the laws drawn: what is saved if the truth is another than
 * the estimate, and so below the best saving of each draw.
 * @param draws - shapes and scales that might be true, as `weibullDraws` gives them
 * @param costs - of a planned and an unplanned replacement
 * @param options - `age`: at which to replace, above 0; `level` of the limits, 0 < level < 1
 * @returns medians and limits over the draws
 * @throws RangeError if an argument lies outside its range
 * @see R. E. Barlow & F. Proschan, Mathematical Theory of Reliability, 1965, ch. 4
 * @example
 * const { draws } = weibullDraws({ shape: 2.2, scale: 18_000, covariance: [[0.004, 0], [0, 0.01]] }, { draws: 1000, seed: 1 });
 * replacementSaving(draws, { planned: 1, unplanned: 5 }, { age: 8000, level: 0.8 });
 */
export function replacementSaving(
  draws: WeibullDraws,
  costs: ReplacementCosts,
  { age, level }: { age: number; level: number },
): ReplacementSaving {
  checkDraws(draws);
  checkCosts(costs);
  checkedLevel(level);
  if (!(age > 0 && age < Number.POSITIVE_INFINITY)) throw new RangeError(`Cannot replace at an age of ${age}`);
  const laws = Array.from(draws.shape, (shape, draw) => ({ shape, scale: draws.scale[draw]! }));
  const toFailure = Float64Array.from(laws, (law) => costRateAt(law, costs, Number.POSITIVE_INFINITY));
  const amounts = Float64Array.from(laws, (law, draw) => toFailure[draw]! - costRateAt(law, costs, age));
  const shares = amounts.map((amount, draw) => amount / toFailure[draw]!);
  const best = laws.flatMap((law) => {
    const found = replacementAge(law, costs);
    return found.found ? [found.age] : [];
  });
  const tail = (1 - level) / 2;
  const limits = (values: Float64Array) => {
    const sorted = values.toSorted();
    return { low: sampleQuantile(sorted, tail), high: sampleQuantile(sorted, 1 - tail) };
  };
  const middle = (values: Float64Array) => sampleQuantile(values.toSorted(), 0.5);
  return {
    median: middle(shares),
    ...limits(shares),
    amount: { median: middle(amounts), ...limits(amounts) },
    chanceOfSaving: amounts.reduce((number, amount) => number + (amount > 0 ? 1 : 0), 0) / laws.length,
    chanceOfBestAge: best.length / laws.length,
    bestAge: 2 * best.length >= laws.length ? limits(Float64Array.from(best)) : null,
  };
}

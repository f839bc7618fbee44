import { chiSquareQuantile } from "../chi-square-quantile.ts";
import { checkedLevel } from "../level.ts";
import { type Counts, checkCounts } from "./counts.ts";
import type { OneRate, SpreadRates } from "./gamma-prior.ts";
import { gammaUpperTail } from "./gamma-tails.ts";

/** Rates of entities, each drawn towards the others' by as much as its own record is short. A value per entity. */
export type ShrunkenRates = {
  /** Mean of the rate given the entity's events: (shape + events) / (rate + exposure). */
  rate: Float64Array;
  /** Lower end of the equal-tailed interval. */
  low: Float64Array;
  /** Upper end. */
  high: Float64Array;
  /** Probability that the rate is over `times` the pooled rate. */
  probabilityAbove: Float64Array;
};

/**
 * Rates given events and the spread of rates over all entities: gamma(shape + events, rate + exposure). Without a spread all have the
 * pooled rate, whatever their own events. An entity without exposure has what is known of any other.
 * @param counts - events and exposures, in the unit of those that the spread was fitted to
 * @param prior - the spread of rates, as `fitGammaPrior` finds it
 * @param options - `level` of the intervals, 0 < level < 1; `times`: multiple of the pooled rate asked about, above 0
 * @returns a value per entity
 * @throws RangeError for columns that are not counts and exposures, or options out of range
 * @see C. N. Morris, J. Amer. Statist. Assoc. 78 (1983) 47-65
 * @example
 * const counts = { events: Float64Array.of(5, 1, 22), exposure: Float64Array.of(94.3, 15.7, 10.5) };
 * const prior = fitGammaPrior(counts);
 * if (prior.spread !== "unknown") shrunkenRates(counts, prior, { level: 0.9, times: 2 });
 */
export function shrunkenRates(
  counts: Counts,
  prior: SpreadRates | OneRate,
  { level, times }: { level: number; times: number },
): ShrunkenRates {
  checkCounts(counts);
  const tail = (1 - checkedLevel(level)) / 2;
  if (!(times > 0)) throw new RangeError(`Cannot ask about a multiple of the pooled rate: found ${times}`);
  const bound = times * prior.pooledRate;
  const size = counts.events.length;
  const column = () => new Float64Array(size);
  const rates: ShrunkenRates = { rate: column(), low: column(), high: column(), probabilityAbove: column() };
  for (let entity = 0; entity < size; entity++) {
    const own = ownRate(prior, counts.exposure[entity]! > 0 ? counts.events[entity]! : 0, counts.exposure[entity]!);
    rates.rate[entity] = own.mean;
    rates.low[entity] = own.quantile(tail);
    rates.high[entity] = own.quantile(1 - tail);
    rates.probabilityAbove[entity] = own.above(bound);
  }
  return rates;
}

type OwnRate = { mean: number; quantile: (p: number) => number; above: (bound: number) => number };

function ownRate(prior: SpreadRates | OneRate, events: number, exposure: number): OwnRate {
  if (prior.spread === "none") {
    const { pooledRate } = prior;
    return { mean: pooledRate, quantile: () => pooledRate, above: (bound) => (pooledRate > bound ? 1 : 0) };
  }
  const [shape, rate] = [prior.shape + events, prior.rate + exposure];
  return {
    mean: shape / rate,
    quantile: (p) => chiSquareQuantile(p, 2 * shape) / 2 / rate,
    above: (bound) => gammaUpperTail(shape, rate * bound),
  };
}

import { checkedLevel } from "../level.ts";
import { OFFENDER_SHAPE } from "./count-chances.ts";
import { type Counts, checkCounts } from "./counts.ts";
import { type MixedRatio, meanRatio, ratioLimits } from "./mixed-ratio.ts";
import { chancesOf, type GroupChances } from "./mixture.ts";
import type { FoundTwoGroups } from "./two-groups.ts";

/** What the two groups say of each entity. A value per entity. */
export type TwoGroupRatios = {
  /** Probability that the entity is ordinary, given its events: the local false discovery rate. */
  probabilityOrdinary: Float64Array;
  /** Mean of its ratio of events to expected, over the ordinary mean: drawn towards 1 by as much as its record is short. */
  ratio: Float64Array;
  /** Lower end of the equal-tailed interval of that ratio, over both groups. */
  low: Float64Array;
  /** Upper end. */
  high: Float64Array;
};

/**
 * Probability of being ordinary, and ratio to the ordinary mean, of each entity under the two groups fitted. An entity of which nothing
 * was expected has what is known of any other.
 * @param counts - events, and the events expected as `exposure`
 * @param fit - the two groups, as `fitTwoGroups` finds them
 * @param options - `level` of the intervals, 0 < level < 1
 * @returns a value per entity
 * @throws RangeError for columns that are not counts and expectations, or a level out of range
 * @see B. Efron, Large-Scale Inference, 2010, ch. 5
 * @example
 * const counts = { events: Float64Array.of(3, 2, 14, 4), exposure: Float64Array.of(3, 3, 3, 3) };
 * const fit = fitTwoGroups(counts, { ordinarySpread: 0.2 });
 * if (fit.found) twoGroupRatios(counts, fit, { level: 0.95 });
 */
export function twoGroupRatios(counts: Counts, fit: FoundTwoGroups, { level }: { level: number }): TwoGroupRatios {
  checkCounts(counts);
  const tail = (1 - checkedLevel(level)) / 2;
  const column = () => new Float64Array(counts.events.length);
  const ratios: TwoGroupRatios = { probabilityOrdinary: column(), ratio: column(), low: column(), high: column() };
  for (const [entity, mixed] of mixedRatios(counts, fit)) {
    const { low, high } = ratioLimits(mixed, tail);
    ratios.probabilityOrdinary[entity] = mixed.probabilityOrdinary;
    ratios.ratio[entity] = meanRatio(mixed);
    ratios.low[entity] = low;
    ratios.high[entity] = high;
  }
  return ratios;
}

/** The `ratio` of `twoGroupRatios` alone, which takes a tenth of the time. */
export function meanRatios(counts: Counts, fit: FoundTwoGroups): Float64Array {
  const ratio = new Float64Array(counts.events.length);
  for (const [entity, mixed] of mixedRatios(counts, fit)) ratio[entity] = meanRatio(mixed);
  return ratio;
}

function* mixedRatios({ events, exposure }: Counts, fit: FoundTwoGroups): Generator<[entity: number, MixedRatio]> {
  const chances = chancesOf(fit);
  for (let entity = 0; entity < events.length; entity++) {
    const expected = fit.ordinary.mean * exposure[entity]!;
    yield [entity, mixedRatio(fit, chances, expected > 0 ? events[entity]! : 0, expected)];
  }
}

function mixedRatio(fit: FoundTwoGroups, chances: GroupChances, events: number, expected: number): MixedRatio {
  const shape = fit.ordinary.spread ** -2;
  const odds = expected > 0 ? chances.offender(events, expected) - chances.ordinary(events, expected) : null;
  const offenders = odds === null ? fit.offenders.share : 1 / (1 + Math.exp(-odds));
  return {
    ordinary: { shape: shape + events, rate: shape + expected },
    offender: { shape: OFFENDER_SHAPE + events, rate: OFFENDER_SHAPE / fit.offenders.uncutMean + expected },
    // not 1 - offenders, which loses small probabilities of being ordinary
    probabilityOrdinary: odds === null ? 1 - offenders : 1 / (1 + Math.exp(odds)),
  };
}

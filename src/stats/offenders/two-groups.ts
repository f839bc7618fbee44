import { LEAST_RATIO, OFFENDER_SHAPE, ordinaryChance } from "./count-chances.ts";
import { type Counts, checkCounts, sumOf, watchedCounts } from "./counts.ts";
import { fitGammaPrior } from "./gamma-prior.ts";
import { gammaUpperTail } from "./gamma-tails.ts";
import { gatheredCounts, type WeightedCounts } from "./gathered-counts.ts";
import { groupsAt, LEAST_SPREAD, mixtureLogLikelihood, mixtureSlope, placeOf, type Ratios } from "./mixture.ts";
import { quasiNewton } from "./quasi-newton.ts";

/** Ordinary entities and offenders: how their ratios of events to expected events are spread. */
export type FoundTwoGroups = Ratios & {
  found: true;
  /** Mean ratio of offenders to the ordinary mean, 2 or more. */
  offenderMean: number;
  /** Of two groups, no constant dropped. */
  logLikelihood: number;
  /** One gamma distribution for all in their place; its spread is the given one where one was given. */
  oneGamma: {
    /** Mean ratio of events to expected. */
    mean: number;
    /** Standard deviation of the ratios over their mean. */
    spread: number;
    /** No constant dropped. */
    logLikelihood: number;
  };
  /** Twice the log-likelihood of two groups less that of one, 0 or more. */
  gain: number;
  /** Whether the ordinary spread was given. */
  spreadGiven: boolean;
  /** Entities with something expected of them. */
  entities: number;
};

/** The two groups, or why nothing can be said of them. */
export type TwoGroups = FoundTwoGroups | { found: false; reason: string };

/**
 * Ordinary entities and offenders, by greatest marginal likelihood. Events are Poisson about ratio times expected; ratios of ordinary
 * entities are gamma, whose spread is fitted together with a second group, so that a few bad ones don't widen it and mild differences are
 * not called outliers; ratios of offenders are a wide gamma (shape 6) of at least twice the ordinary mean. At most half are offenders.
 * Where expected events are each entity's own cumulative hazard, as `expectedEvents` gives it, the likelihood holds on any renewal
 * clock: given its history, a unit of ratio z has likelihood z^events exp(-z expected) times what does not depend on z.
 * @param counts - events, and the events expected as `exposure`; entities with none expected take no part
 * @param options - `ordinarySpread`: coefficient of variation of ordinary ratios, 0 or more, where it is known from elsewhere, as for
 * fleets of under 100 entities, which tell little about it: fit all fleets' entities together and give each fleet that spread
 * @returns means, spread and share, and what two groups gain over one; or why neither
 * @throws RangeError for columns that are not counts and expectations, or a spread below 0
 * @see B. Efron, Large-Scale Inference, 2010, ch. 2 and 5; Andersen, Borgan, Gill & Keiding, Statistical Models Based on Counting
 * Processes, 1993, ch. 9, for the likelihood
 * @example
 * fitTwoGroups({ events: Float64Array.of(3, 2, 14, 4), exposure: Float64Array.of(3, 3, 3, 3) }, { ordinarySpread: 0.2 });
 */
export function fitTwoGroups(counts: Counts, { ordinarySpread }: { ordinarySpread?: number } = {}): TwoGroups {
  checkCounts(counts);
  if (ordinarySpread !== undefined && !(ordinarySpread >= 0 && ordinarySpread < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot fit two groups: the ordinary spread must be 0 or more, found ${ordinarySpread}`);
  }
  const spread = ordinarySpread === undefined ? undefined : Math.max(ordinarySpread, LEAST_SPREAD);
  const watched = watchedCounts(counts);
  const entities = watched.events.length;
  const reason = refusalOf(watched);
  if (reason !== null) return { found: false, reason };
  const gathered = gatheredCounts(watched);
  const oneGamma = spread === undefined ? freeGamma(watched) : givenGamma(gathered, spread);
  const likelihood = (at: number[]) => ({
    value: mixtureLogLikelihood(gathered, groupsAt(at, spread)),
    slope: () => mixtureSlope(gathered, at, spread),
  });
  const peaks = STARTS.map(({ share, ratio }) =>
    quasiNewton(
      likelihood,
      placeOf(
        {
          ordinary: { mean: oneGamma.mean * (1 - share), spread: Math.min(oneGamma.spread, START_SPREAD) },
          offenders: { share, uncutMean: ratio },
        },
        spread,
      ),
    ),
  );
  const best = peaks.reduce((high, peak) => (peak.value > high.value ? peak : high));
  const groups = groupsAt(best.at, spread);
  return {
    found: true,
    ...groups,
    offenderMean: cutMean(groups.offenders.uncutMean),
    logLikelihood: best.value,
    oneGamma,
    gain: Math.max(0, 2 * (best.value - oneGamma.logLikelihood)),
    spreadGiven: spread !== undefined,
    entities,
  };
}

/** Few and far off, some, many and near: likelihoods of mixtures have several tops. */
const STARTS = [
  { share: 0.01, ratio: 5 },
  { share: 0.05, ratio: 3.5 },
  { share: 0.2, ratio: 2 },
];
const START_SPREAD = 0.2;

/** Mean of the offenders' gamma distribution once it is cut. */
function cutMean(uncut: number): number {
  const cut = (LEAST_RATIO * OFFENDER_SHAPE) / uncut;
  return uncut * (gammaUpperTail(OFFENDER_SHAPE + 1, cut) / gammaUpperTail(OFFENDER_SHAPE, cut));
}

function refusalOf({ events }: Counts): string | null {
  if (events.length === 0) return "no events were expected of anything";
  if (events.every((number) => number === 0)) return "there are no events";
  return events.length === 1 ? "there is nothing to compare one entity with" : null;
}

function freeGamma(counts: Counts): FoundTwoGroups["oneGamma"] {
  const prior = fitGammaPrior(counts);
  if (prior.spread === "unknown") throw new RangeError(`Cannot fit two groups: ${prior.reason}`);
  if (prior.spread === "none") return { mean: prior.pooledRate, spread: 0, logLikelihood: prior.poissonLogLikelihood };
  return { mean: prior.mean, spread: 1 / Math.sqrt(prior.shape), logLikelihood: prior.logLikelihood };
}

function givenGamma(counts: WeightedCounts, spread: number): FoundTwoGroups["oneGamma"] {
  const chance = ordinaryChance(spread);
  const pooled =
    sumOf(counts.events.map((n, at) => n * counts.weight[at]!)) /
    sumOf(counts.exposure.map((x, at) => x * counts.weight[at]!));
  const slopes = { byExpected: 0, byOwn: 0 };
  const likelihood = ([logMean = 0]: number[]) => {
    let [sum, slope] = [0, 0];
    for (let at = 0; at < counts.events.length; at++) {
      sum += counts.weight[at]! * chance(counts.events[at]!, Math.exp(logMean) * counts.exposure[at]!, slopes);
      slope += counts.weight[at]! * slopes.byExpected;
    }
    return { value: sum, slope: () => [slope] };
  };
  const { at, value } = quasiNewton(likelihood, [Math.log(pooled)]);
  return { mean: Math.exp(at[0]!), spread, logLikelihood: value };
}

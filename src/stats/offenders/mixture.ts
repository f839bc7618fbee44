import { type ChanceSlopes, type LogChance, offenderChance, ordinaryChance } from "./count-chances.ts";
import type { WeightedCounts } from "./gathered-counts.ts";

/** Means, spread and share of the two groups. */
export type Ratios = {
  /** Ordinary entities: gamma. */
  ordinary: {
    /** Mean ratio of events to expected: near 1 where the expectation is the fleet's own. */
    mean: number;
    /** Standard deviation of the ratios over their mean; 0.03 stands for less too. */
    spread: number;
  };
  /** Offenders: gamma of shape 6, cut off below 2. */
  offenders: {
    /** Share of entities. */
    share: number;
    /** Mean, before the cut, of their ratios to the ordinary mean: the parameter of the distribution. */
    uncutMean: number;
  };
};

/** Log chances of a count in either group, each with its share. */
export type GroupChances = { ordinary: LogChance; offender: LogChance };

/** What the two groups say of a count, `expected` being the fleet's expectation times the ordinary mean. */
export function chancesOf({ ordinary, offenders }: Ratios): GroupChances {
  const [ordinaryCount, offenderCount] = [ordinaryChance(ordinary.spread), offenderChance(offenders.uncutMean)];
  const [logOrdinary, logOffender] = [Math.log1p(-offenders.share), Math.log(offenders.share)];
  return {
    ordinary: (n, x, slopes) => logOrdinary + ordinaryCount(n, x, slopes),
    offender: (n, x, slopes) => logOffender + offenderCount(n, x, slopes),
  };
}

/** Marginal log-likelihood of counts under two groups, no constant dropped. */
export function mixtureLogLikelihood({ events, exposure, weight }: WeightedCounts, ratios: Ratios): number {
  const { ordinary, offender } = chancesOf(ratios);
  let sum = 0;
  for (let at = 0; at < events.length; at++) {
    const expected = ratios.ordinary.mean * exposure[at]!;
    const [one, other] = [ordinary(events[at]!, expected), offender(events[at]!, expected)];
    sum += weight[at]! * (Math.max(one, other) + Math.log1p(Math.exp(-Math.abs(one - other))));
  }
  return sum;
}

/** Its slope at a point of the search. */
export function mixtureSlope(
  { events, exposure, weight }: WeightedCounts,
  at: number[],
  givenSpread: number | undefined,
): number[] {
  const { ordinary: own, offenders } = groupsAt(at, givenSpread);
  const { ordinary, offender } = chancesOf({ ordinary: own, offenders });
  const [one, other]: [ChanceSlopes, ChanceSlopes] = [noSlopes(), noSlopes()];
  let [byMean, byShare, byRatio, bySpread] = [0, 0, 0, 0];
  for (let row = 0; row < events.length; row++) {
    const expected = own.mean * exposure[row]!;
    const odds = offender(events[row]!, expected, other) - ordinary(events[row]!, expected, one);
    const bad = weight[row]! / (1 + Math.exp(-odds));
    const good = weight[row]! / (1 + Math.exp(odds));
    byMean += good * one.byExpected + bad * other.byExpected;
    byShare += bad / offenders.share - good / (1 - offenders.share);
    byRatio += bad * other.byOwn;
    bySpread += good * one.byOwn;
  }
  const [, share = 0, ratio = 0, spread = 0] = at;
  const slope = [
    byMean,
    byShare * MOST_SHARE * logisticSlope(share),
    byRatio * Math.log(MOST_MEAN) * logisticSlope(ratio),
  ];
  if (givenSpread !== undefined) return slope;
  return [...slope, bySpread * Math.log(MOST_SPREAD / LEAST_SPREAD) * logisticSlope(spread)];
}

const noSlopes = (): ChanceSlopes => ({ byExpected: 0, byOwn: 0 });

/** Smaller spreads are as good as none: an entity would need a thousand events to show it. */
export const LEAST_SPREAD = 0.03;
const MOST_SPREAD = 3;
const MOST_SHARE = 0.5;
const MOST_MEAN = 60;
const LEAST_SHARE = 1e-9;

/** Two groups at a point of the search: log mean, and logits of where log spread, share and log mean ratio lie within their bounds. */
export function groupsAt(at: number[], givenSpread: number | undefined): Ratios {
  const [logMean = 0, share = 0, ratio = 0, spread = 0] = at;
  return {
    ordinary: {
      mean: Math.exp(logMean),
      spread: givenSpread ?? LEAST_SPREAD * (MOST_SPREAD / LEAST_SPREAD) ** logistic(spread),
    },
    offenders: { share: LEAST_SHARE + MOST_SHARE * logistic(share), uncutMean: MOST_MEAN ** logistic(ratio) },
  };
}

/** The point of the search at which they are. */
export function placeOf({ ordinary, offenders }: Ratios, givenSpread: number | undefined): number[] {
  const place = [
    Math.log(ordinary.mean),
    logit(offenders.share / MOST_SHARE),
    logit(Math.log(offenders.uncutMean) / Math.log(MOST_MEAN)),
  ];
  if (givenSpread !== undefined) return place;
  const spread = Math.min(Math.max(ordinary.spread, 1.1 * LEAST_SPREAD), MOST_SPREAD / 2);
  return [...place, logit(Math.log(spread / LEAST_SPREAD) / Math.log(MOST_SPREAD / LEAST_SPREAD))];
}

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
const logisticSlope = (x: number) => logistic(x) * logistic(-x);
const logit = (p: number) => Math.log(p / (1 - p));

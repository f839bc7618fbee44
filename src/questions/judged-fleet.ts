import { benjaminiHochberg } from "../stats/multiple/benjamini-hochberg.ts";
import type { Counts } from "../stats/offenders/counts.ts";
import { fitGammaPrior } from "../stats/offenders/gamma-prior.ts";
import { offenderVerdicts } from "../stats/offenders/offender-verdicts.ts";
import { poissonUpperP } from "../stats/offenders/poisson-upper.ts";
import { fitRenewalLaw, type RenewalLaw } from "../stats/offenders/renewal-law.ts";
import { renewalUpperP } from "../stats/offenders/renewal-upper.ts";
import { shrunkenRates } from "../stats/offenders/shrunken-rates.ts";
import { twoGroupRatios } from "../stats/offenders/two-group-ratios.ts";
import { fitTwoGroups } from "../stats/offenders/two-groups.ts";
import { countLimits } from "../stats/rate/count-limits.ts";
import type { CountedFleet } from "./counted-fleet.ts";
import type { Estimate } from "./estimate.ts";
import type { Entity, JudgedFleet } from "./offenders-answer.ts";

/** Below so many entities the spread of the ordinary ones is taken from all fleets together. */
export const ENOUGH_FOR_OWN_SPREAD = 100;

/** What a rate has to be many times of to count as above, where one gamma distribution is all there is. */
const TIMES = 1.5;

export type Judged = { fleet: JudgedFleet; entities: Entity[] };

/**
 * Judges the entities of one fleet: how sure each comes back more often than chance explains.
 * @param expected - events to be expected of each, with what is known of its places or frames put in where that is
 * @param pooledSpread - spread of the ordinary ones over all fleets, for one of too few entities to tell; null where there is none
 */
export function judgedFleet(
  counted: CountedFleet,
  expected: Float64Array,
  pooledSpread: number | null,
  level: number,
): Judged {
  const given = counted.ids.length < ENOUGH_FOR_OWN_SPREAD ? pooledSpread : null;
  const mixed = mixture({ events: counted.events, exposure: expected }, given, level);
  const chance = chanceOf(counted, expected, mixed.ordinaryMean, level);
  const adjusted = chance.p === null ? null : benjaminiHochberg(chance.p);
  const plain = onePrior(counted, level);
  const fleet = counted.by["fleet"] ?? null;
  const entities = counted.ids.map(
    (id, at): Entity => ({
      fleet,
      id,
      events: counted.events[at]!,
      planned: counted.planned[at]!,
      expected: expected[at]!,
      exposure: counted.exposure[at]!,
      rate: rateOf(counted.events[at]!, counted.exposure[at]!, level),
      shrunkenRate: plain.rateOf(at),
      shrunkenRatio: mixed.ratioOf(at),
      probabilityOrdinary: mixed.probabilityOrdinary?.[at] ?? null,
      pValue: chance.p?.[at] ?? null,
      adjustedP: adjusted?.[at] ?? null,
      verdict: mixed.verdict?.[at] ?? "within chance",
      damage: null,
    }),
  );
  return {
    fleet: {
      fleet,
      entities: counted.ids.length,
      events: sum(counted.events),
      exposure: sum(counted.exposure),
      ...mixed.said,
      prior: plain.prior,
      renewalShape: chance.shape,
      chanceBy: chance.by,
      falseNamesExpected: mixed.falseNamesExpected,
    },
    entities: entities.toSorted(byCertainty),
  };
}

type Mixed = {
  ordinaryMean: number;
  probabilityOrdinary: Float64Array | null;
  ratioOf: (at: number) => Estimate;
  verdict: Entity["verdict"][] | null;
  falseNamesExpected: number;
  said: MixtureSaid;
};

type MixtureSaid = Pick<
  JudgedFleet,
  "ordinarySpread" | "spreadFrom" | "offenderShare" | "offenderRatio" | "gain" | "reason"
>;

/** Two groups, ordinary ones and offenders, and what each entity is by them. */
function mixture(counts: Counts, given: number | null, level: number): Mixed {
  const fit = fitTwoGroups(counts, given === null ? {} : { ordinarySpread: given });
  if (!fit.found) {
    return {
      ordinaryMean: 1,
      probabilityOrdinary: null,
      ratioOf: () => none(fit.reason),
      verdict: null,
      falseNamesExpected: 0,
      said: {
        ordinarySpread: null,
        spreadFrom: null,
        offenderShare: null,
        offenderRatio: null,
        gain: null,
        reason: fit.reason,
      },
    };
  }
  const { probabilityOrdinary, ratio, low, high } = twoGroupRatios(counts, fit, { level });
  const { verdict, falseNamesExpected } = offenderVerdicts(fit, probabilityOrdinary);
  return {
    ordinaryMean: fit.ordinary.mean,
    probabilityOrdinary,
    ratioOf: (at) => ({ estimate: ratio[at]!, low: low[at]!, high: high[at]! }),
    verdict,
    falseNamesExpected,
    said: {
      ordinarySpread: fit.ordinary.spread,
      spreadFrom: given === null ? "this fleet" : "all fleets",
      offenderShare: fit.offenders.share,
      offenderRatio: fit.offenderMean,
      gain: fit.gain,
    },
  };
}

/** Rates shrunk to the fleet's by one gamma distribution of rates. */
function onePrior(
  { events, exposure }: CountedFleet,
  level: number,
): { prior: JudgedFleet["prior"]; rateOf: (at: number) => Estimate } {
  const prior = fitGammaPrior({ events, exposure });
  if (prior.spread === "unknown") return { prior: null, rateOf: () => none(prior.reason) };
  const { rate, low, high } = shrunkenRates({ events, exposure }, prior, { level, times: TIMES });
  return {
    prior: prior.spread === "gamma" ? { shape: prior.shape, rate: prior.rate, mean: prior.mean } : null,
    rateOf: (at) => ({ estimate: rate[at]!, low: low[at]!, high: high[at]! }),
  };
}

type Chance = { p: Float64Array | null; by: JudgedFleet["chanceBy"]; shape: Estimate };

/** How likely so many failures are: by renewal counts where the times between them are credibly not exponential, else by Poisson's. */
function chanceOf(
  { events, stretches, ids }: CountedFleet,
  expected: Float64Array,
  mean: number,
  level: number,
): Chance {
  if (!(sum(events) > 0)) return { p: null, by: null, shape: none("no failure is on record") };
  const law: RenewalLaw =
    stretches === null
      ? {
          renewal: false,
          reason: "counts alone say nothing of the times between failures",
          shape: null,
          shapeLow: null,
          shapeHigh: null,
        }
      : fitRenewalLaw(stretches, { level });
  const shape: Estimate =
    law.shape === null
      ? none(law.renewal ? "no shape" : law.reason)
      : { estimate: law.shape, low: law.shapeLow, high: law.shapeHigh };
  if (law.renewal && stretches !== null) {
    return { p: renewalUpperP(stretches, ids.length, law, { rateRatio: mean }), by: "renewal counts", shape };
  }
  return { p: poissonUpperP({ events, exposure: expected.map((own) => own * mean) }), by: "Poisson counts", shape };
}

function rateOf(events: number, exposure: number, level: number): Estimate {
  if (!(exposure > 0)) return none("no service under observation");
  const { low, high } = countLimits(events, level);
  return { estimate: events / exposure, low: low / exposure, high: high / exposure };
}

function none(reason: string): Estimate {
  return { estimate: null, low: null, high: null, reason };
}

function sum(values: Float64Array): number {
  return values.reduce((total, value) => total + value, 0);
}

/** Most certain first; where that says nothing, the least likely by chance, then the most failures beyond those expected. */
export function byCertainty(one: Entity, other: Entity): number {
  return (
    (one.probabilityOrdinary ?? 1) - (other.probabilityOrdinary ?? 1) ||
    (one.pValue ?? 1) - (other.pValue ?? 1) ||
    other.events - other.expected - (one.events - one.expected) ||
    one.id.localeCompare(other.id, "en", { numeric: true })
  );
}

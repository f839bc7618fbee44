import { fitCommonShape } from "../groups/common-shape.ts";
import { normalHalfWidth } from "../level.ts";
import type { Lives } from "../lives.ts";
import { checkStretches, type Stretches } from "./expected-events.ts";
import { orderByNumber, runsOf } from "./stretches.ts";

/** Weibull gaps between events whose shape is credibly not 1: counts on this clock are not Poisson. */
export type RenewalClock = {
  renewal: true;
  /** Of the gaps, in all strata. */
  shape: number;
  /** Lower limit, normal on the log scale. */
  shapeLow: number;
  /** Upper limit. */
  shapeHigh: number;
  /** Of each stratum, in the unit of the ages; Infinity for one without events. */
  scale: Float64Array;
};

/** Why counts are to be taken for Poisson; the shape, where there is one, is not credibly other than 1. */
export type PoissonClock = {
  renewal: false;
  reason: string;
  shape: number | null;
  shapeLow: number | null;
  shapeHigh: number | null;
};

/** The law of the gaps between events, as far as counts depend on it. */
export type RenewalLaw = RenewalClock | PoissonClock;

/**
 * Weibull distributions of one shape, and a scale for each stratum, fitted to the gaps between events; and whether the limits of the
 * shape exclude 1. Units that differ make the shape a little smaller than each unit's own is.
 * @param stretches - of all entities
 * @param options - `level` of the limits, 0 < level < 1
 * @returns shape and scales, or why counts are to be taken for Poisson
 * @throws RangeError for columns that are not stretches, or a level out of range
 * @see D. R. Cox, Renewal Theory, 1962, ch. 3
 * @example
 * const [entity, entry] = [Int32Array.of(0, 0, 1, 1), new Float64Array(4)];
 * fitRenewalLaw({ entity, entry, stop: Float64Array.of(90, 110, 100, 40), event: Uint8Array.of(1, 1, 1, 0) }, { level: 0.95 });
 */
export function fitRenewalLaw(stretches: Stretches, { level }: { level: number }): RenewalLaw {
  const z = normalHalfWidth(level);
  checkStretches(stretches, Number.POSITIVE_INFINITY);
  const { strata, lives } = livesByStratum(stretches);
  const fit = fitCommonShape(lives);
  if (!fit.converged) return { renewal: false, reason: fit.reason, shape: null, shapeLow: null, shapeHigh: null };
  const reach = Math.exp(z * Math.sqrt(fit.variance));
  const limits = { shape: fit.shape, shapeLow: fit.shape / reach, shapeHigh: fit.shape * reach };
  if (limits.shapeLow <= 1 && limits.shapeHigh >= 1) {
    return { renewal: false, reason: "the shape of the gaps is not credibly other than 1", ...limits };
  }
  const scale = new Float64Array((strata.at(-1) ?? 0) + 1).fill(Number.POSITIVE_INFINITY);
  for (const [at, stratum] of strata.entries()) {
    const own = fit.groups[at];
    if (own?.converged) scale[stratum] = own.scale;
  }
  return { renewal: true, ...limits, scale };
}

/** Gaps of each stratum, those of no length left out. */
function livesByStratum(stretches: Stretches): { strata: number[]; lives: Lives[] } {
  const { entry, stop, event } = stretches;
  const stratum = stretches.stratum ?? new Int32Array(stop.length);
  const rows = Uint32Array.from(stop.keys()).filter((row) => stop[row]! > entry[row]!);
  const most = stratum.reduce((most, number) => Math.max(most, number), 0);
  const runs = [...runsOf(stratum, orderByNumber(stratum, most + 1, rows))];
  return {
    strata: runs.map((own) => stratum[own[0]!]!),
    lives: runs.map((own) => ({
      time: Float64Array.from(own, (row) => stop[row]!),
      failed: Uint8Array.from(own, (row) => event[row]!),
      entry: Float64Array.from(own, (row) => entry[row]!),
    })),
  };
}

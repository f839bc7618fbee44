import type { Family, FamilyName } from "../stats/distribution/family.ts";
import { bootstrapInterval } from "../stats/fit/bootstrap-interval.ts";
import { calibratedCutOff } from "../stats/fit/calibrated.ts";
import { type ConvergedFit, type Fit, fitSurface } from "../stats/fit/fit.ts";
import { intervalAround } from "../stats/fit/interval-around.ts";
import { type Jackknife, jackknife, jackknifeInterval } from "../stats/fit/jackknife.ts";
import { nearSurface } from "../stats/fit/near-surface.ts";
import { profileInterval } from "../stats/fit/profile-interval.ts";
import { isInfinite, type Quantity } from "../stats/fit/quantity.ts";
import { type Replicate, type Replicates, replicates } from "../stats/fit/replicates.ts";
import type { Surface } from "../stats/fit/surface.ts";
import { surfaceOf } from "../stats/fit/surface-of.ts";
import { waldInterval } from "../stats/fit/wald-interval.ts";
import { workingEstimate } from "../stats/fit/working-estimate.ts";
import type { IntervalLives } from "../stats/lives.ts";
import type { Estimate } from "./estimate.ts";
import type { GroupOfLives } from "./group-lives.ts";
import type { IntervalMethod, IntervalUsed } from "./life-answer.ts";
import { count } from "./wording.ts";

/** Below this many failures the chi-square cut-off covers too little: 91 to 94 % for nominal 95 % at 10. */
export const CALIBRATED_BELOW = 30;
export const DRAWS = 999;
/** Fewer units or positions say nothing of how they differ: limits by leaving them out would be any. */
const LEAST_CLUSTERS = 6;
const L10: Quantity = { kind: "quantile", p: 0.1 };

/** A fitted law and what takes figures with their limits from it. */
export type Law = {
  fit: Fit;
  /** Null where there is no fit. */
  family: Family | null;
  used: IntervalUsed;
  estimate(quantity: Quantity): Estimate;
  /** The same for hundreds of quantities: where one takes a search over the likelihood, by the normal law, as wide as the search would be. */
  quickly(quantity: Quantity): Estimate;
  /** Sets of lives drawn from the fit; null where there is no fit, or they can't be drawn. */
  drawn(): Replicate[] | null;
};

/** How limits are wanted; `interval` is left to the lives where not given. */
export type LimitsWanted = {
  interval?: IntervalMethod;
  level: number;
  distribution: FamilyName;
  seed: number;
  /** Sets of lives to be drawn where any are; 999 where not given. */
  draws?: number;
};

/** Which unit and which position each life belongs to, -1 where it is not known; and how many units there are. */
export type Clusters = { unit: Int32Array; units: number; position: Int32Array };

/** Those of a group. */
export function clustersOf({ entity, entities, place }: GroupOfLives): Clusters {
  return { unit: entity, units: entities, position: place };
}

/**
 * Fits a law to lives, and finds how its limits are to be had.
 * @param surface - of the same lives, where it is there already
 */
export function lawOf(
  lives: IntervalLives,
  clusters: Clusters,
  wanted: LimitsWanted,
  surface = surfaceOf(lives, wanted.distribution),
): Law {
  if ("refused" in surface) {
    return noLaw({ converged: false, reason: surface.refused, failures: surface.failures }, wanted);
  }
  const fit = fitSurface(surface);
  if (!fit.converged) return noLaw(fit, wanted);
  const fitted: Fitted = { lives, clusters, surface, fit, replicates: onceDrawn(lives, surface, fit, wanted) };
  const limits = chosen(fitted, wanted);
  const estimate = (quantity: Quantity): Estimate =>
    isInfinite(quantity, surface.family, fit)
      ? { estimate: null, low: null, high: null, reason: "under this law the mean is infinite" }
      : limits.of(quantity);
  const drawn = () => {
    const found = fitted.replicates();
    return "reason" in found ? null : found.list;
  };
  const quickly = limits.quickly ?? estimate;
  return { fit, family: surface.family, used: limits.used, estimate, quickly, drawn };
}

/** Draws when first asked, and keeps what was drawn. */
function onceDrawn(
  lives: IntervalLives,
  surface: Surface,
  fit: ConvergedFit,
  { seed, draws = DRAWS }: LimitsWanted,
): () => Replicates | { reason: string } {
  let found: Replicates | { reason: string } | undefined;
  return () => {
    found ??= replicates(lives, surface, fit, { draws, seed });
    return found;
  };
}

function noLaw(fit: Extract<Fit, { converged: false }>, { interval = "profile" }: LimitsWanted): Law {
  const nothing = { estimate: null, low: null, high: null, reason: fit.reason };
  return {
    fit,
    family: null,
    used: plainly(interval, null),
    estimate: () => nothing,
    quickly: () => nothing,
    drawn: () => null,
  };
}

type Fitted = {
  lives: IntervalLives;
  clusters: Clusters;
  surface: Surface;
  fit: ConvergedFit;
  replicates: () => Replicates | { reason: string };
};
type Limits = { used: IntervalUsed; of(quantity: Quantity): Estimate; quickly?(quantity: Quantity): Estimate };

function chosen(fitted: Fitted, wanted: LimitsWanted): Limits {
  const { unit, units } = fitted.clusters;
  const repeated = units < unit.length;
  if (wanted.interval !== undefined) return askedFor(wanted.interval, fitted, wanted);
  return repeated ? clusteredOrWider(fitted, wanted) : byFailures(fitted, wanted, null);
}

function askedFor(interval: IntervalMethod, fitted: Fitted, wanted: LimitsWanted): Limits {
  switch (interval) {
    case "clustered":
      return clustered(fitted, wanted) ?? byFailures(fitted, wanted, "all lives are of units of their own");
    case "calibrated":
    case "bootstrap":
      return drawn(fitted, wanted, interval);
    case "profile":
      return profile(fitted, wanted, null);
    case "wald":
      return wald(fitted, wanted);
  }
}

function byFailures(fitted: Fitted, wanted: LimitsWanted, instead: string | null): Limits {
  return fitted.fit.failures < CALIBRATED_BELOW
    ? drawn(fitted, wanted, "calibrated", instead)
    : profile(fitted, wanted, instead);
}

function profile({ surface, fit }: Fitted, { level }: LimitsWanted, instead: string | null): Limits {
  const near = nearSurface(surface, fit);
  return {
    used: plainly("profile", instead),
    of: (quantity) => profileInterval(near, fit, quantity, level),
    quickly: (quantity) => waldInterval(surface.family, fit, quantity, level),
  };
}

function wald({ surface, fit }: Fitted, { level }: LimitsWanted): Limits {
  return { used: plainly("wald", null), of: (quantity) => waldInterval(surface.family, fit, quantity, level) };
}

function drawn(
  fitted: Fitted,
  wanted: LimitsWanted,
  method: "calibrated" | "bootstrap",
  instead: string | null = null,
): Limits {
  const { surface, fit } = fitted;
  const { seed, level } = wanted;
  const found = fitted.replicates();
  if ("reason" in found) return profile(fitted, wanted, found.reason);
  const used = { ...plainly(method, instead), draws: found.list.length, redrawn: found.redrawn, seed };
  if (method === "bootstrap") {
    return { used, of: (quantity) => bootstrapInterval(surface, fit, quantity, level, found.list) };
  }
  const cutOff = cutOffs(fitted, level, found.list);
  const near = nearSurface(surface, fit);
  return {
    used,
    of: (quantity) => profileInterval(near, fit, quantity, level, cutOff(quantity)),
    quickly: (quantity) => {
      const { estimate, error } = workingEstimate(surface.family, fit, quantity);
      return intervalAround(quantity, estimate, Math.sqrt(cutOff(quantity)) * error);
    },
  };
}

/** A cut-off for each quantity, found once; L10's serves the scale, and the chances of single units, of which there may be hundreds. */
function cutOffs({ surface, fit }: Fitted, level: number, list: Replicate[]): (quantity: Quantity) => number {
  const found = new Map<string, number>();
  return (asked) => {
    const quantity: Quantity = asked.kind === "conditional" || asked.kind === "scale" ? L10 : asked;
    const key = JSON.stringify(quantity);
    const known = found.get(key) ?? calibratedCutOff(surface, fit, quantity, level, list);
    found.set(key, known);
    return known;
  };
}

/** By units left out; under 30 failures, where those few may be alike by luck, by drawing if that is wider. */
function clusteredOrWider(fitted: Fitted, wanted: LimitsWanted): Limits {
  const apart = clustered(fitted, wanted);
  if (apart === null) return byFailures(fitted, wanted, null);
  if (apart.used.method !== "clustered" || fitted.fit.failures >= CALIBRATED_BELOW) return apart;
  const other = drawn(fitted, wanted, "calibrated");
  if (width(other.of(L10)) <= width(apart.of(L10))) return apart;
  const instead = "limits by leaving out units in turn are narrower, which few failures can make them by luck";
  const { clusters, clusteredBy } = apart.used;
  return { ...other, used: { ...other.used, clusters, clusteredBy, instead } };
}

/** Units left out in turn, or positions where that makes L10 less certain; another method where the lives left can't be fitted. */
function clustered(fitted: Fitted, wanted: LimitsWanted): Limits | null {
  const { unit, units, position } = fitted.clusters;
  if (units === unit.length) return null;
  if (units < LEAST_CLUSTERS) {
    return byFailures(fitted, wanted, `${count(units, "unit")} are too few to tell how units differ`);
  }
  const byUnit = leftOut(fitted, wanted, unit, "unit");
  if ("reason" in byUnit) return byFailures(fitted, wanted, byUnit.reason);
  const byPosition = positionsTell(position) ? leftOut(fitted, wanted, position, "position") : null;
  if (byPosition === null || "reason" in byPosition) return byUnit;
  return width(byPosition.of(L10)) > width(byUnit.of(L10)) ? byPosition : byUnit;
}

/** Positions are clusters where all are known, and one has had several lives. */
function positionsTell(position: Int32Array): boolean {
  const known = new Set(position);
  return !known.has(-1) && known.size >= LEAST_CLUSTERS && known.size < position.length;
}

function leftOut(
  { lives, surface, fit }: Fitted,
  { level, seed }: LimitsWanted,
  cluster: Int32Array,
  clusteredBy: "unit" | "position",
): Limits | { reason: string } {
  const found: Jackknife | { reason: string } = jackknife(lives, cluster, surface, fit, seed);
  if ("reason" in found) return found;
  const clusters = found.without.length;
  const grouped = clusters < new Set(cluster).size;
  return {
    used: { ...plainly("clustered", null), clusters, clusteredBy, seed: grouped ? seed : null },
    of: (quantity) => jackknifeInterval(surface, fit, quantity, level, found),
  };
}

/** Width on the log scale; without an end it is endless. */
function width({ low, high }: Estimate): number {
  return low === null || high === null ? Number.POSITIVE_INFINITY : Math.log(high / low);
}

function plainly(method: IntervalMethod, instead: string | null): IntervalUsed {
  return { method, draws: null, redrawn: null, seed: null, clusters: null, clusteredBy: null, instead };
}

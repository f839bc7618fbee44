import { aalenJohansen } from "../../src/stats/competing/aalen-johansen.ts";
import type { FamilyName } from "../../src/stats/distribution/family.ts";
import { type ConvergedFit, fitSurface } from "../../src/stats/fit/fit.ts";
import { surfaceOf } from "../../src/stats/fit/surface-of.ts";
import type { IntervalLives, Lives } from "../../src/stats/lives.ts";
import { kaplanMeier } from "../../src/stats/survival/kaplan-meier.ts";
import { logRank } from "../../src/stats/survival/log-rank.ts";
import { nelsonAalen } from "../../src/stats/survival/nelson-aalen.ts";
import { turnbull } from "../../src/stats/survival/turnbull.ts";
import type { DataSet } from "./data-sets.ts";
import type { Kind } from "./kinds.ts";

/** A figure of ours; `unit` is what a difference from it is measured in. */
export type Figure = { name: string; value: number; unit: number };

/** Why a law has no figures; `searched`: its likelihood was looked at and said to have no maximum. */
export type Refused = { family: FamilyName; reason: string; searched: boolean };

const FAMILIES: FamilyName[] = ["weibull", "lognormal", "log-logistic", "exponential", "gamma"];
/** As in main.R: the steps taken there are many and slow. */
const TURNBULL_ROWS = 60;

/** All that can be said of a set, by kind. */
export function figuresOf(set: DataSet): { figures: Map<Kind, Figure[]>; refused: Refused[] } {
  const lives: IntervalLives = { low: set.low, high: set.high, entry: set.entry, count: set.count };
  const figures = new Map<Kind, Figure[]>();
  const refused: Refused[] = [];
  const add = (kind: Kind, list: Figure[]) => figures.set(kind, [...(figures.get(kind) ?? []), ...list]);
  for (const family of FAMILIES) {
    const surface = surfaceOf(lives, family);
    if ("refused" in surface) {
      refused.push({ family, reason: surface.refused, searched: false });
      continue;
    }
    const fit = fitSurface(surface);
    if (fit.converged) addFit(add, family, fit);
    else refused.push({ family, reason: fit.reason, searched: true });
  }
  const right = rightCensored(set);
  if (right !== null) addCurves(add, set, right);
  const entered = set.entry.some((entry) => entry > 0);
  if (!entered && set.low.length <= TURNBULL_ROWS) add("Turnbull", turnbullFigures(lives));
  return { figures, refused };
}

type Add = (kind: Kind, figures: Figure[]) => void;

function addFit(add: Add, family: FamilyName, { scale, shape, covariance, logLikelihood }: ConvergedFit): void {
  const [[vScale, across], [, vShape]] = covariance;
  const free = family !== "exponential";
  const figure = (what: string, value: number, unit: number) => ({ name: `${family} ${what}`, value, unit });
  add("estimates", [
    figure("log scale", Math.log(scale), Math.sqrt(vScale)),
    ...(free ? [figure("log shape", Math.log(shape), Math.sqrt(vShape))] : []),
  ]);
  add("covariance", [
    figure("var log scale", vScale, vScale),
    ...(free ? [figure("cov", across, Math.sqrt(vScale * vShape)), figure("var log shape", vShape, vShape)] : []),
  ]);
  add("log-likelihood", [figure("log-likelihood", logLikelihood, Math.max(1, Math.abs(logLikelihood)))]);
}

function rightCensored({ low, high, entry, count }: DataSet): Lives | null {
  const failed = new Uint8Array(low.length);
  for (let life = 0; life < low.length; life++) {
    if (high[life] !== low[life] && high[life] !== Number.POSITIVE_INFINITY) return null;
    failed[life] = high[life] === low[life] ? 1 : 0;
  }
  return { time: low, failed, entry, count };
}

function addCurves(add: Add, set: DataSet, lives: Lives): void {
  const steps = kaplanMeier(lives, { level: 0.95, limits: "log-log" });
  add("Kaplan-Meier", [
    ...column("at risk", steps, (step) => step.atRisk),
    ...column("survival", steps, (step) => step.survival),
    ...column("s.e.", steps, (step) => step.se),
    ...column("low", steps, (step) => step.low),
    ...column("high", steps, (step) => step.high),
  ]);
  const hazards = nelsonAalen(lives, { level: 0.95, limits: "log" });
  add("Nelson-Aalen", [
    ...column("hazard", hazards, (step) => step.hazard),
    ...column("s.e.", hazards, (step) => step.se),
  ]);
  for (const rho of [0, 1]) addRankTest(add, set, lives, rho);
  const curves = aalenJohansen({ ...lives, cause: set.cause }, { causes: set.causes, level: 0.95, limits: "log" });
  curves.forEach((curve, cause) => {
    add(
      "incidence",
      column(`incidence of cause ${cause}`, curve, (step) => step.incidence),
    );
    const errors = column(`s.e. of cause ${cause}`, curve, (step) => step.se);
    add(
      "incidence s.e.",
      errors.map((figure) => ({ ...figure, unit: 1 })),
    );
  });
}

/** Figures by the number of the step, counted from 0; those that there are not are left out. */
function column<Step>(name: string, steps: Step[], pick: (step: Step) => number | null): Figure[] {
  return steps.flatMap((step, at) => {
    const value = pick(step);
    return value === null ? [] : [{ name: `${name} ${at}`, value, unit: value || 1 }];
  });
}

function addRankTest(add: Add, { group, groups }: DataSet, lives: Lives, rho: number): void {
  const test = logRank(lives, { group, groups }, { rho });
  const figures: Figure[] = test.groups.flatMap(({ observed, expected }, number) => [
    { name: `observed ${number}`, value: observed, unit: Math.max(1, observed) },
    { name: `expected ${number}`, value: expected, unit: Math.max(1, expected) },
  ]);
  figures.push({ name: "degrees", value: test.degrees, unit: 1 });
  if (test.statistic !== null) {
    figures.push({ name: "chi-square", value: test.statistic, unit: Math.max(1, test.statistic) });
  }
  add(
    "log-rank",
    figures.map(({ name, ...figure }) => ({ name: `rho ${rho} ${name}`, ...figure })),
  );
}

/** Survival at each age at which a life is known to have failed, by the number of the age. */
function turnbullFigures(lives: IntervalLives): Figure[] {
  const found = turnbull(lives);
  if (!found.converged) return [{ name: "converged", value: 0, unit: 1 }];
  const { logLikelihood, drops } = found;
  const ends = [...new Set(lives.high)].filter((end) => end < Number.POSITIVE_INFINITY).sort((a, b) => a - b);
  return [
    { name: "converged", value: 1, unit: 1 },
    { name: "log-likelihood", value: logLikelihood, unit: Math.max(1, Math.abs(logLikelihood)) },
    ...ends.map((end, at) => ({
      name: `survival ${at}`,
      value: drops.findLast(({ high }) => high <= end)?.after ?? 1,
      unit: 1,
    })),
  ];
}

import type { IntervalLives } from "../stats/lives.ts";
import { fittedLife } from "../stats/regression/accelerated-life.ts";
import type { ClusterRefits } from "../stats/regression/cluster-refits.ts";
import type { Contrast } from "../stats/regression/contrast.ts";
import type { Covariate } from "../stats/regression/covariates.ts";
import { hazardsWithoutClusters } from "../stats/regression/hazards-without-clusters.ts";
import { jackknifeContrast } from "../stats/regression/jackknife-contrast.ts";
import { jackknifeCovariance } from "../stats/regression/jackknife-covariance.ts";
import { jackknifeTest } from "../stats/regression/jackknife-test.ts";
import { likelihoodRatioTest } from "../stats/regression/likelihood-ratio-test.ts";
import { fitProportionalHazards } from "../stats/regression/proportional-hazards.ts";
import { refitsOf } from "../stats/regression/refit-without-clusters.ts";
import { robustHazards } from "../stats/regression/robust-hazards.ts";
import { placesOf, sandwichCovariance } from "../stats/regression/sandwich-covariance.ts";
import { scoresOf } from "../stats/regression/score-residuals.ts";
import { waldContrast } from "../stats/regression/wald-contrast.ts";
import { waldTest } from "../stats/regression/wald-test.ts";
import type { AdjustedFit, Coefficient, TermTest } from "./compare-answer.ts";
import { intervalCensored, rightCensored } from "./life-curves.ts";
import { count } from "./wording.ts";

/** What is fitted: lives, the columns of the effect and those held alike, and what lives may have in common. */
export type ToFit = {
  lives: IntervalLives;
  /** Each tells something of its own, beside all others. */
  effect: readonly Covariate[];
  others: readonly Covariate[];
  model: AdjustedFit["model"];
  /** Of a model of hazards: lives are compared within a stratum only. */
  stratum?: Int32Array;
  unit: Int32Array;
  place: Int32Array;
  /** Weights on the columns of the effect of the contrast that is asked for first. */
  main: readonly number[];
  level: number;
  seed: number;
  /** What is left out in turn; the less certain of both where not given. */
  cluster?: "unit" | "position";
  /** What is known of the fit of so many first columns alone. */
  nested?: Smaller & { columns: number };
};

/** What a test takes from a fit of fewer columns. */
type Smaller = { logLikelihood: number; parameters: number };

/** A regression with limits as the lives need them, whatever its model; all but the coefficients on log life. */
export type EffectFit = {
  failures: number;
  logLikelihood: number;
  parameters: number;
  /** Weibull shape of the lives, all else alike. */
  shape: number;
  limits: AdjustedFit["limits"];
  /** Of the log of life, by weights on the columns of the effect. */
  contrast(weights: readonly number[]): Contrast;
  /** The log ratio of lives for a unit more of each column of the effect, and its covariance, as the limits take it. */
  effect: number[];
  covariance: () => number[][];
  /** That columns, by their place among effect and others, say nothing. */
  test(columns: readonly number[]): TermTest;
  coefficients: () => Coefficient[];
};

/** What either model gives: `scale` turns its coefficients into log ratios of life; `first` is the place of the first column of the effect. */
type Fitted = {
  names: string[];
  numbers: Float64Array;
  covariance: ArrayLike<number>[];
  robust: () => ArrayLike<number>[];
  logLikelihood: number;
  parameters: number;
  failures: number;
  shape: number;
  scale: number;
  first: number;
  without(cluster: Int32Array): ClusterRefits | { reason: string };
  /** Of the model without some columns; null where that has no fit. */
  smaller(kept: readonly Covariate[]): Smaller | null;
};

/** Fits how life goes with the effect, or says why that can't be. */
export function effectFit(asked: ToFit): EffectFit | { reason: string } {
  const { effect, others, level } = asked;
  const covariates = [...effect, ...others];
  const fit = asked.model === "aft" ? acceleratedFit(asked, covariates) : hazardFit(asked, covariates);
  if ("reason" in fit) return fit;
  const { scale, first } = fit;
  const left = leftOut(asked, fit);
  const limitsOf = (weights: readonly number[]) =>
    left === null
      ? waldContrast(fit.numbers, matrixOf(fit.covariance), weights, level)
      : jackknifeContrast(left.refits, weights, level);
  const before = new Array<number>(first).fill(0);
  const robust = once(fit.robust);
  const without = (columns: readonly number[]): Smaller | null => {
    const kept = covariates.filter((_, at) => !columns.includes(at));
    const known = asked.nested?.columns === kept.length && columns.every((at) => at >= kept.length);
    return known ? asked.nested! : fit.smaller(kept);
  };
  return {
    failures: fit.failures,
    logLikelihood: fit.logLikelihood,
    parameters: fit.parameters,
    shape: fit.shape,
    limits: left?.of ?? "likelihood",
    contrast: (weights) => limitsOf([...before, ...weights.map((weight) => scale * weight)]),
    effect: effect.map((_, at) => scale * fit.numbers[first + at]!),
    covariance: () => {
      const covariance = left === null ? matrixOf(fit.covariance) : jackknifeCovariance(left.refits);
      return effect.map((_, one) =>
        effect.map((__, other) => {
          // symmetric but for rounding
          const [above, below] = [covariance[first + one]![first + other]!, covariance[first + other]![first + one]!];
          return (scale ** 2 * (above + below)) / 2;
        }),
      );
    },
    test: byPlaces((columns) => {
      const places = columns.map((at) => first + at);
      const jackknife = left === null ? null : jackknifeTest(left.refits, places);
      const less = without(columns);
      const ratio = less === null ? null : likelihoodRatioTest(less, fit);
      return {
        lr: ratio?.chiSquare ?? null,
        df: columns.length,
        p: ratio?.p ?? null,
        robustP: waldTest(fit.numbers, robust(), places)?.p ?? null,
        jackknifeP: jackknife === null || "reason" in jackknife ? null : jackknife.p,
      };
    }),
    coefficients: () =>
      fit.names.map((term, place) => {
        const { low, high, p, error } = limitsOf(fit.names.map((_, at) => (at === place ? 1 : 0)));
        return {
          term,
          scale: asked.model === "aft" ? "log life" : "log hazard",
          estimate: fit.numbers[place]!,
          se: Math.sqrt(fit.covariance[place]![place]!),
          robustSe: Math.sqrt(robust()[place]![place]!),
          jackknifeSe: left === null ? null : error,
          low,
          high,
          p,
        };
      }),
  };
}

/** Reckons when first asked, and keeps what was found. */
function once<Found>(reckon: () => Found): () => Found {
  let found: Found | undefined;
  return () => (found ??= reckon());
}

/** The same of each set of places. */
function byPlaces<Found>(reckon: (places: readonly number[]) => Found): (places: readonly number[]) => Found {
  const found = new Map<string, () => Found>();
  return (places) => {
    const key = places.join(" ");
    const known = found.get(key) ?? once(() => reckon(places));
    found.set(key, known);
    return known();
  };
}

/** What is fitted has been found to be so before: whoever asks leaves out columns that others make up. */
const INDEPENDENT = { independent: true } as const;

function acceleratedFit({ lives, unit, seed }: ToFit, covariates: readonly Covariate[]): Fitted | { reason: string } {
  const { fit, model } = fittedLife(lives, covariates, "weibull", INDEPENDENT);
  if (model === null) return { reason: fit.reason };
  const refits = refitsOf(model, fit);
  return {
    ...fit,
    numbers: fit.coefficients,
    robust: () => {
      const { of, clusters } = placesOf(apart(unit));
      const each = Int32Array.from({ length: clusters }, (_, cluster) => cluster);
      return sandwichCovariance(fit.covariance, scoresOf(model, fit, of), each);
    },
    shape: 1 / fit.sigma,
    scale: 1,
    first: 1,
    without: (cluster) => refits(cluster, seed),
    smaller: (kept) => {
      const found = fittedLife(lives, kept, "weibull", INDEPENDENT).fit;
      return found.converged ? found : null;
    },
  };
}

/** Ratios of hazards become ratios of life by the Weibull shape of the same regression. */
function hazardFit(asked: ToFit, covariates: readonly Covariate[]): Fitted | { reason: string } {
  const { lives, unit, seed, stratum } = asked;
  const known = rightCensored(lives);
  if (known === null) {
    const hidden = count(intervalCensored(lives), "failure is", "failures are");
    return { reason: `${hidden} known within an interval only, which a model of hazards can't take: --model aft does` };
  }
  const model = { lives: known, covariates, ...(stratum !== undefined && { stratum }) };
  const fit = fitProportionalHazards(known, covariates, model);
  if (!fit.converged) return { reason: fit.reason };
  const law = fittedLife(lives, covariates, "weibull", INDEPENDENT).fit;
  if (!law.converged) return { reason: law.reason };
  return {
    ...fit,
    numbers: fit.coefficients,
    robust: () => robustHazards(model, fit, apart(unit)).covariance,
    parameters: fit.coefficients.length,
    shape: 1 / law.sigma,
    scale: -law.sigma,
    first: 0,
    without: (cluster) => hazardsWithoutClusters(model, fit, cluster, seed),
    smaller: (kept) => {
      if (kept.length === 0) return { logLikelihood: fit.logLikelihoodAtZero, parameters: 0 };
      const found = fitProportionalHazards(known, kept, model);
      return found.converged ? { logLikelihood: found.logLikelihood, parameters: kept.length } : null;
    },
  };
}

/** Each row for itself where units are not known. */
function apart(unit: Int32Array): Int32Array {
  return unit.includes(-1) ? unit.map((_, row) => row) : unit;
}

function matrixOf(rows: readonly ArrayLike<number>[]): number[][] {
  return rows.map((row) => Array.from(row));
}

/** Fewer units or positions say nothing of how they differ. */
const LEAST_CLUSTERS = 6;

type LeftOut = { refits: ClusterRefits; of: AdjustedFit["limits"] };

/** The fits that each lack one unit, or one position where that makes the contrast less certain; null where neither tells. */
function leftOut({ unit, place, main, level, cluster }: ToFit, { without, first }: Fitted): LeftOut | null {
  const refits = (numbers: Int32Array, of: AdjustedFit["limits"]): LeftOut[] => {
    const known = new Set(numbers);
    if (known.has(-1) || known.size < LEAST_CLUSTERS) return [];
    const found = without(numbers);
    return "reason" in found ? [] : [{ refits: found, of }];
  };
  const weights = [...new Array<number>(first).fill(0), ...main];
  const errorOf = (one: LeftOut) => jackknifeContrast(one.refits, weights, level).error;
  const found = [
    ...(cluster === "position" ? [] : refits(unit, "units left out in turn")),
    ...(cluster === "unit" ? [] : refits(place, "positions left out in turn")),
  ];
  return found.toSorted((one, other) => errorOf(other) - errorOf(one))[0] ?? null;
}

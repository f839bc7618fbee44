import { fitSurface } from "../fit/fit.ts";
import type { Surface } from "../fit/surface.ts";
import { surfaceOf } from "../fit/surface-of.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { aloneAmongFailures } from "./alone-among-failures.ts";
import { climb } from "./climb.ts";
import { type Covariate, checkCovariates } from "./covariates.ts";
import { dependence } from "./dependence.ts";
import { inverseInformation } from "./inverse-information.ts";
import { type AcceleratedFamily, type LifeModel, lifeModel, partOf } from "./life-model.ts";
import { timeScaleSlopes, toTimeScale } from "./life-time-scale.ts";
import { rowsOf } from "./plain-lives.ts";
import { everySo } from "./strided-rows.ts";
import { whyNoTop } from "./why-no-top.ts";

/** A regression of greatest likelihood: log T = intercept + sum of coefficient * covariate + sigma * Z, Z the standard law of the family. */
export type ConvergedAcceleratedLife = {
  converged: true;
  distribution: AcceleratedFamily;
  /** "(intercept)" and the covariates' names: of the coefficients, in their order. */
  names: string[];
  /** On log time: a life is exp(coefficient) times as long for each unit more of the covariate. */
  coefficients: Float64Array;
  /** 1 / shape, no unit; 1 for the exponential. */
  sigma: number;
  /** Of the coefficients and, last, log sigma (not for the exponential, which fits none): the inverse of the observed information. */
  covariance: number[][];
  /** Of the ages themselves, no constant dropped. */
  logLikelihood: number;
  /** The same without covariates; null where such a fit has no maximum. */
  nullLogLikelihood: number | null;
  /** How many numbers were fitted: coefficients and, where there is one, sigma. */
  parameters: number;
  /** Steps that the search took. */
  iterations: number;
  /** Failures of any kind, each as often as its count says. */
  failures: number;
};

/** The regression, or why there is none and how many failures there are. */
export type AcceleratedLife = ConvergedAcceleratedLife | { converged: false; reason: string; failures: number };

/**
 * Accelerated-life regression by greatest likelihood: T = exp(intercept + sum of coefficient * covariate) * E^sigma, where E is unit
 * exponential for Weibull lives, and sigma = 1 / shape. For exact, right-, left- and interval-censored, left-truncated lives, with counts.
 * @param lives - all ages in one unit
 * @param covariates - named columns, each as long as the lives; without any it is a plain fit
 * @param distribution - the law of lives of one kind
 * @returns the fit, or why there is none: too few failures, a covariate that tells nothing of its own, or one whose coefficient runs away
 * @throws RangeError for columns that are not lives, or covariates of another length or with a value that is no number
 * @see Lawless, Statistical Models and Methods for Lifetime Data, ch. 6; Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example fitAcceleratedLife(lives, [{ name: "end play", values: endPlay }], "weibull");
 */
export function fitAcceleratedLife(
  lives: Lives | IntervalLives,
  covariates: readonly Covariate[],
  distribution: AcceleratedFamily = "weibull",
): AcceleratedLife {
  return fittedLife(lives, covariates, distribution).fit;
}

/** A regression with what it was fitted to, for what else is asked of it; `model` is null where there is no fit. */
export type FittedLife =
  | { fit: ConvergedAcceleratedLife; model: LifeModel }
  | { fit: Extract<AcceleratedLife, { converged: false }>; model: null };

/**
 * The same as `fitAcceleratedLife`, with its model.
 * @param known - whether the covariates are known to tell something of their own each
 */
export function fittedLife(
  lives: Lives | IntervalLives,
  covariates: readonly Covariate[],
  distribution: AcceleratedFamily = "weibull",
  known: { independent?: true } = {},
): FittedLife {
  const surface = surfaceOf(lives, distribution);
  checkCovariates(covariates, "time" in lives ? lives.time.length : lives.low.length);
  if ("refused" in surface) return unfitted(surface.refused, surface.failures);
  const { failures } = surface;
  const idle = known.independent ? null : dependence(covariates, lives.count);
  if (idle !== null) return unfitted(idle, failures);
  const model = lifeModel(lives, covariates, distribution);
  const { start, nullLogLikelihood } = withoutCovariates(surface, model);
  const top = climb(model.likelihood, sampled(model, start), model.standard.fitsShape);
  if (!top.found) return unfitted(whyNoTop(model, top), failures);
  const spread = inverseInformation(top.sums);
  if (spread === null || isUnknown(spread.get(spread.rows - 1, spread.rows - 1), top.at, model)) {
    return unfitted(aloneAmongFailures(model) ?? FLAT, failures);
  }
  const { coefficients, logSigma } = toTimeScale(model.standard, top.at);
  const slopes = timeScaleSlopes(model.standard, top.at);
  const fit: ConvergedAcceleratedLife = {
    converged: true,
    distribution,
    names: ["(intercept)", ...covariates.map(({ name }) => name)],
    coefficients,
    sigma: Math.exp(logSigma),
    covariance: slopes.mmul(spread).mmul(slopes.transpose()).to2DArray(),
    logLikelihood: top.sums.value,
    nullLogLikelihood,
    parameters: top.at.length,
    iterations: top.iterations,
    failures,
  };
  return { fit, model };
}

function unfitted(reason: string, failures: number): FittedLife {
  return { fit: { converged: false, reason, failures }, model: null };
}

const FLAT = "the likelihood is flat at its maximum: the coefficients and sigma can't be told apart";
/** Variance of log shape from which the shape is as good as unknown: limits a factor of e^20 away. */
const UNKNOWN_SHAPE = 100;

function isUnknown(variance: number, at: Float64Array, { standard }: LifeModel): boolean {
  return standard.fitsShape && !(variance < UNKNOWN_SHAPE * at.at(-1)! ** 2);
}

function withoutCovariates(
  surface: Surface,
  { standard }: LifeModel,
): { start: Float64Array; nullLogLikelihood: number | null } {
  const start = new Float64Array(standard.columns.length + (standard.fitsShape ? 2 : 1));
  const fit = fitSurface(surface);
  const shape = fit.converged ? fit.shape : 1;
  if (fit.converged) start[0] = shape * (standard.typicalLog - Math.log(fit.scale));
  if (standard.fitsShape) start[start.length - 1] = shape;
  return { start, nullLogLikelihood: fit.converged ? fit.logLikelihood : null };
}

/** Lives of which a sample is worth its own search: it ends so near that the whole then takes a few passes. */
const SAMPLED_FROM = 100_000;
const SAMPLE = 20_000;
/** Failures in a sample from which it tells where to start. */
const ENOUGH = 200;

/** Where a sample has its top; the start where it has none, or is flat there, as where a level that few lives have is not in it. */
function sampled(model: LifeModel, start: Float64Array): Float64Array {
  const rows = rowsOf(model.lives);
  if (rows < SAMPLED_FROM || model.standard.columns.length === 0) return start;
  const part = partOf(model, everySo(rows, SAMPLE));
  if (part.rows.failures < ENOUGH) return start;
  const top = climb(part.likelihood, start, model.standard.fitsShape);
  return top.found && inverseInformation(top.sums) !== null ? top.at : start;
}

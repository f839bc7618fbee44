import type { IntervalLives, Lives } from "../lives.ts";
import { bestBySeries } from "./best-by-series.ts";
import { gatherLives } from "./gather-lives.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import { exactLikelihood, type LevelAndShape, type Likelihood } from "./log-likelihood.ts";
import { maximise } from "./maximise.ts";
import type { LivesBySeries } from "./wide-series.ts";

/** A Weibull distribution of greatest likelihood. */
export type ConvergedWeibull = {
  converged: true;
  distribution: "weibull";
  /** No unit. */
  shape: number;
  /** Age by which 63.2 % have failed, in the unit of the lives. */
  scale: number;
  /** Of the ages themselves, no constant dropped. */
  logLikelihood: number;
  /** Of (log scale, log shape): [[var log scale, cov], [cov, var log shape]], the inverse of the observed information. */
  covariance: [[number, number], [number, number]];
  /** Steps that the search took. */
  iterations: number;
  /** Failures of any kind, each as often as its count says. */
  failures: number;
};

/** The distribution, or why there is none and how many failures there are. */
export type WeibullFit = ConvergedWeibull | { converged: false; reason: string; failures: number };

/**
 * Weibull distribution, S(t) = exp(-(t / scale)^shape), of greatest likelihood for exact, right-, left- and interval-censored,
 * left-truncated lives, with counts. Needs two failures, not all at one age.
 * @param lives - as they are, or gathered by `gatherLives`
 * @returns the fit, or why there is none
 * @throws RangeError for columns that are not lives
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 and 11
 * @example
 * fitWeibull({ time: Float64Array.of(54, 187, 216, 500), failed: Uint8Array.of(1, 1, 1, 0) });
 */
export function fitWeibull(lives: Lives | IntervalLives | GatheredLives): WeibullFit {
  const gathered = "typicalLog" in lives ? lives : gatherLives(lives);
  if ("refused" in gathered) return { converged: false, reason: gathered.refused, failures: gathered.failures };
  return fitGathered(gathered);
}

/** The same from lives that are gathered already, and looked for from `near` where that is given. */
export function fitGathered(gathered: GatheredLives, near?: { scale: number; shape: number }): WeibullFit {
  const { failures, typicalLog } = gathered;
  const start =
    near === undefined ? undefined : { level: near.shape * (typicalLog - Math.log(near.scale)), shape: near.shape };
  const maximum = maximise(gathered, start);
  if (!maximum.found) return { converged: false, reason: maximum.reason, failures };
  return fitAt(maximum, gathered);
}

/**
 * The same without a pass over the lives: by series of their hazard sums.
 * @param near - the shape to look from
 * @returns null where there is no top within reach of the series
 */
export function fitBySeries(lives: LivesBySeries, near: number): WeibullFit | null {
  const found = bestBySeries(lives, near);
  if (found === null) return null;
  const { at, sums, steps } = found;
  const likelihood = exactLikelihood(sums, lives, at);
  return fitAt({ at, likelihood, iterations: steps }, { typicalLog: lives.typicalLog, failures: lives.exact });
}

function fitAt(
  { at, likelihood, iterations }: { at: LevelAndShape; likelihood: Likelihood; iterations: number },
  { typicalLog, failures }: Pick<GatheredLives, "typicalLog" | "failures">,
): WeibullFit {
  const covariance = logCovariance(likelihood, at);
  const scale = Math.exp(typicalLog - at.level / at.shape);
  if (covariance === null || !(scale > 0 && scale < Number.POSITIVE_INFINITY)) {
    return {
      converged: false,
      reason: "the likelihood is flat at its maximum: shape and scale can't be told apart",
      failures,
    };
  }
  const { value: logLikelihood } = likelihood;
  const distribution = "weibull";
  return { converged: true, distribution, shape: at.shape, scale, logLikelihood, covariance, iterations, failures };
}

/** Squared correlation of level and shape from which the two are taken as one. */
const ONE_AND_THE_SAME = 1 - 1e-10;
/** Variance of log shape from which the shape is as good as unknown: limits a factor of e^20 away. */
const UNKNOWN_SHAPE = 100;

/** Inverse of minus the second derivatives, carried from (level, shape) to (log scale, log shape); null if not a proper maximum. */
function logCovariance(
  { ll, ls, ss }: Likelihood,
  { level, shape }: LevelAndShape,
): ConvergedWeibull["covariance"] | null {
  if (!(ll < 0 && ss < 0 && ls * ls < ONE_AND_THE_SAME * ll * ss)) return null;
  const determinant = ll * ss - ls * ls;
  const vLevel = -ss / determinant;
  const vShape = -ll / determinant;
  if (vShape > UNKNOWN_SHAPE * shape ** 2) return null;
  const both = ls / determinant;
  const ratio = level / shape;
  const vScale = (vLevel - 2 * ratio * both + ratio * ratio * vShape) / shape ** 2;
  const across = (ratio * vShape - both) / shape ** 2;
  return [
    [vScale, across],
    [across, vShape / shape ** 2],
  ];
}

import type { FamilyName } from "../distribution/family.ts";
import { fitGathered } from "../weibull/fit.ts";
import type { Point } from "./constraint.ts";
import { maximise } from "./maximise.ts";
import type { Slopes } from "./slopes.ts";
import { startingPoint } from "./starting-point.ts";
import type { Surface } from "./surface.ts";

/** A distribution of greatest likelihood. */
export type ConvergedFit = {
  converged: true;
  distribution: FamilyName;
  /** No unit: Weibull, log-logistic and gamma shape; 1 / sigma of the lognormal; 1 for the exponential. */
  shape: number;
  /** In the unit of the lives: Weibull scale; median of the lognormal and log-logistic; mean of the exponential; mean / shape of the gamma. */
  scale: number;
  /** Of the ages themselves, no constant dropped. */
  logLikelihood: number;
  /**
   * Of (log scale, log shape): [[var log scale, cov], [cov, var log shape]], the inverse of the observed information; with 0 for the
   * exponential's shape.
   */
  covariance: [[number, number], [number, number]];
  /** Steps that the search took. */
  iterations: number;
  /** Failures of any kind, each as often as its count says. */
  failures: number;
};

/** The distribution, or why there is none and how many failures there are. */
export type Fit = ConvergedFit | { converged: false; reason: string; failures: number };

/**
 * The distribution of greatest likelihood on a surface.
 * @param surface - the likelihood of the lives, from `surfaceOf`
 * @param near - one to look from, where one is known to lie near
 * @returns the fit, or why there is none
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 and 11
 * @example fitSurface(surface);
 */
export function fitSurface(surface: Surface, near?: { scale: number; shape: number }): Fit {
  if (surface.gathered !== undefined) return fitGathered(surface.gathered, near);
  const { family, failures } = surface;
  const start = near === undefined ? startingPoint(surface) : pointOf(near);
  const maximum = maximise(surface, start);
  if (!maximum.found) return { converged: false, reason: maximum.reason, failures };
  const { at, likelihood, iterations } = maximum;
  const [scale, shape] = [Math.exp(at.a), Math.exp(at.e)];
  const covariance = family.fitsShape ? covarianceOf(likelihood, shape) : alone(likelihood);
  if (covariance === null || !(scale > 0 && scale < Number.POSITIVE_INFINITY)) {
    return { converged: false, reason: FLAT, failures };
  }
  const { value: logLikelihood } = likelihood;
  return { converged: true, distribution: family.name, shape, scale, logLikelihood, covariance, iterations, failures };
}

const FLAT = "the likelihood is flat at its maximum: shape and scale can't be told apart";
/** Squared correlation from which two parameters are taken as one. */
const ONE_AND_THE_SAME = 1 - 1e-10;
/** Variance of log shape, or squared error of log scale in spreads of log age, from which they are as good as unknown. */
const UNKNOWN = 100;

function covarianceOf({ aa, ae, ee }: Slopes, shape: number): ConvergedFit["covariance"] | null {
  if (!(aa < 0 && ee < 0 && ae * ae < ONE_AND_THE_SAME * aa * ee)) return null;
  const determinant = aa * ee - ae * ae;
  const vShape = -aa / determinant;
  // Log ages spread by about 1 / shape; those of a gamma law by the root of that.
  if (vShape > UNKNOWN || Math.min(shape, shape ** 2) / -aa > UNKNOWN) return null;
  const across = ae / determinant;
  return [
    [-ee / determinant, across],
    [across, vShape],
  ];
}

function alone({ aa }: Slopes): ConvergedFit["covariance"] | null {
  if (!(aa < 0)) return null;
  return [
    [-1 / aa, 0],
    [0, 0],
  ];
}

/** Where a fit lies on its surface. */
export function pointOf({ scale, shape }: Pick<ConvergedFit, "scale" | "shape">): Point {
  return { a: Math.log(scale), e: Math.log(shape) };
}

import { familyOf } from "../distribution/families.ts";
import type { Interval } from "../fit/quantity.ts";
import { normalHalfWidth } from "../level.ts";
import type { ConvergedAcceleratedLife } from "./accelerated-life.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { contrastOf } from "./contrast.ts";
import { jackknifeLimits } from "./jackknife-contrast.ts";
import { lifeRatio } from "./life-ratio.ts";

/** What life to predict: the age by which the fraction `p` has failed of lives whose covariates have the values `at`, in their order. */
export type LifeQuestion = { p: number; at: readonly number[]; level: number };

/**
 * Age by which a fraction of the lives of given covariates fails, with limits on the log scale: by the delta method, or by the jackknife where
 * refits are given.
 * @param fit - a regression of greatest likelihood
 * @param question - 0 < p < 1, a value for each covariate, and the confidence level, 0 < level < 1
 * @param refits - of the same regression, from `refitWithoutClusters`
 * @returns ages in the unit of the lives, and the standard error of their log
 * @throws RangeError if p or the level lies outside its range, or there is not a value for each covariate
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example predictedLife(fit, { p: 0.1, at: [4.5, 1], level: 0.95 }); // L10 at an end play of 4.5 and lube 1
 */
export function predictedLife(
  fit: ConvergedAcceleratedLife,
  { p, at, level }: LifeQuestion,
  refits?: ClusterRefits,
): Interval & { logError: number } {
  const weights = [1, ...at];
  if (!(p > 0 && p < 1)) throw new RangeError(`Cannot predict a life: p must be in (0, 1), found ${p}`);
  if (weights.length !== fit.coefficients.length || !weights.every(Number.isFinite)) {
    throw new RangeError(
      `Cannot predict a life: found values ${at.join(", ")} for ${fit.coefficients.length - 1} covariates`,
    );
  }
  const place = familyOf(fit.distribution).quantile(p, 0).value;
  const logLife = (numbers: ArrayLike<number>, sigma: number) => contrastOf(numbers, weights) + sigma * place;
  const estimate = logLife(fit.coefficients, fit.sigma);
  if (refits !== undefined) {
    const fitsShape = fit.parameters > fit.coefficients.length;
    const values = refits.without.map((numbers) => logLife(numbers, fitsShape ? Math.exp(numbers.at(-1)!) : 1));
    const limits = jackknifeLimits(estimate, values, level);
    return { ...lifeRatio(limits), logError: limits.error };
  }
  const slopes = fit.parameters > fit.coefficients.length ? [...weights, fit.sigma * place] : weights;
  const along = slopes.map((_, one) => contrastOf(fit.covariance[one]!, slopes));
  const logError = Math.sqrt(Math.max(contrastOf(along, slopes), 0));
  const reach = normalHalfWidth(level) * logError;
  return { ...lifeRatio({ estimate, low: estimate - reach, high: estimate + reach }), logError };
}

import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { type ConvergedWeibull, fitWeibull } from "../../../src/stats/weibull/fit.ts";
import { weibullMean } from "../../../src/stats/weibull/mean.ts";
import { weibullQuantile } from "../../../src/stats/weibull/quantile.ts";
import { weibullSurvival } from "../../../src/stats/weibull/survival.ts";
import { profileInterval, waldInterval, workingError } from "./weibull-intervals.ts";

/** The fit, or a failed test. */
export function converged(lives: Lives | IntervalLives): ConvergedWeibull {
  const fit = fitWeibull(lives);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return fit;
}

/** The figure that a published name stands for (`L10_ci95_lr_lo`), or undefined where the program has no such figure. */
export function weibullFigure(
  lives: Lives | IntervalLives,
  fit: ConvergedWeibull,
  name: string,
): number | null | undefined {
  const interval = /^(.+)_ci(\d+)_(?:(log|lr)_)?(lo|hi)$/.exec(name);
  if (interval !== null) {
    const [, of = "", level = "", method, end] = interval;
    const quantity = quantityOf(of);
    if (quantity === undefined) return undefined;
    const limits =
      method === "lr"
        ? profileInterval(lives, fit, quantity, Number(level) / 100)
        : waldInterval(fit, quantity, Number(level) / 100);
    return end === "lo" ? limits.low : limits.high;
  }
  const error = /^(L\d+)_se_log$/.exec(name);
  if (error !== null) return workingError(fit, quantityOf(error[1] ?? "") ?? { kind: "shape" });
  return plainFigure(fit, name);
}

function quantityOf(name: string): Quantity | undefined {
  if (name === "shape" || name === "scale") return { kind: name };
  const [, letter, number] = /^(L|R_at_)(\d+)$/.exec(name) ?? [];
  if (letter === "L") return { kind: "quantile", p: Number(number) / 100 };
  return letter === "R_at_" ? { kind: "survival", time: Number(number) } : undefined;
}

function plainFigure(fit: ConvergedWeibull, name: string): number | undefined {
  const { shape, scale, logLikelihood, covariance } = fit;
  const [[vScale, across], [, vShape]] = covariance;
  const figures: Record<string, number> = {
    shape,
    scale,
    loglik: logLikelihood,
    aic: 4 - 2 * logLikelihood,
    se_log_scale: Math.sqrt(vScale),
    se_log_shape: Math.sqrt(vShape),
    se_scale: scale * Math.sqrt(vScale),
    se_shape: shape * Math.sqrt(vShape),
    cov_logscale_logshape: across,
    cov_scale_shape: scale * shape * across,
    mean_life: weibullMean(shape, scale),
    median: weibullQuantile(0.5, shape, scale),
    mu: Math.log(scale),
    sigma: 1 / shape,
    se_mu: Math.sqrt(vScale),
    se_log_sigma: Math.sqrt(vShape),
    F_at_5: 1 - weibullSurvival(5, shape, scale),
  };
  const quantity = quantityOf(name);
  if (quantity?.kind === "quantile") return weibullQuantile(quantity.p, shape, scale);
  if (quantity?.kind === "survival") return weibullSurvival(quantity.time, shape, scale);
  return figures[name];
}

import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import { waldInterval } from "../../../src/stats/fit/wald-interval.ts";
import { workingEstimate } from "../../../src/stats/fit/working-estimate.ts";
import { type Fitted, fitted } from "./fitted.ts";

/** The figure that a published name stands for (`L10_ci95_lr_lo`), or undefined where the program has no such figure. */
export function figureOf(found: Fitted, name: string): number | null | undefined {
  const { family, surface, fit } = found;
  const interval = /^(.+)_ci(\d+)_(?:(log|lr)_)?(lo|hi)$/.exec(name);
  if (interval !== null) {
    const [, of = "", percent = "", method, end] = interval;
    const quantity = quantityOf(of);
    if (quantity === undefined) return undefined;
    const level = Number(percent) / 100;
    const limits =
      method === "lr" ? profileInterval(surface, fit, quantity, level) : waldInterval(family, fit, quantity, level);
    return end === "lo" ? limits.low : limits.high;
  }
  const error = /^(L\d+)_se_log$/.exec(name);
  if (error !== null) return workingEstimate(family, fit, quantityOf(error[1] ?? "") ?? { kind: "shape" }).error;
  const quantity = quantityOf(name);
  return quantity === undefined ? plainFigure(found, name) : waldInterval(family, fit, quantity, 0.95).estimate;
}

const NAMES: Record<string, Quantity> = {
  shape: { kind: "shape" },
  scale: { kind: "scale" },
  mean: { kind: "mean" },
  mean_life: { kind: "mean" },
  median: { kind: "quantile", p: 0.5 },
};

function quantityOf(name: string): Quantity | undefined {
  const [, letter, number] = /^(L|R_at_)(\d+)$/.exec(name) ?? [];
  if (letter === "L") return { kind: "quantile", p: Number(number) / 100 };
  return letter === "R_at_" ? { kind: "survival", time: Number(number) } : NAMES[name];
}

function plainFigure({ lives, family, fit }: Fitted, name: string): number | undefined {
  const { shape, scale, logLikelihood, covariance } = fit;
  const [[vScale, across], [, vShape]] = covariance;
  const figures: Record<string, () => number> = {
    loglik: () => logLikelihood,
    loglik_null: () => logLikelihood,
    aic: () => 2 * (family.fitsShape ? 2 : 1) - 2 * logLikelihood,
    se_log_scale: () => Math.sqrt(vScale),
    se_log_shape: () => Math.sqrt(vShape),
    se_log_mean: () => workingEstimate(family, fit, { kind: "mean" }).error,
    se_scale: () => scale * Math.sqrt(vScale),
    se_shape: () => shape * Math.sqrt(vShape),
    cov_logscale_logshape: () => across,
    cov_scale_shape: () => scale * shape * across,
    // log T = mu + sigma Z: the scale is exp(mu) and the shape 1 / sigma, so that log sigma has the error of log shape.
    mu: () => Math.log(scale),
    sigma: () => 1 / shape,
    se_mu: () => Math.sqrt(vScale),
    se_log_sigma: () => Math.sqrt(vShape),
    rate: () => 1 / scale,
    F_at_5: () => 1 - waldInterval(family, fit, { kind: "survival", time: 5 }, 0.95).estimate,
    chisq: () => 2 * (fitted(lives, "weibull").fit.logLikelihood - logLikelihood),
  };
  return figures[name]?.();
}

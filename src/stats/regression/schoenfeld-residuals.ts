import { orderOf } from "../order.ts";
import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { scaledCoefficients } from "./hazard-residuals.ts";
import { hazardSteps } from "./hazard-steps.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { stepByPlace } from "./risk-steps.ts";

/** Failures by age, in columns. */
export type SchoenfeldResiduals = {
  /** Number of the life, counted from 0. */
  life: Uint32Array;
  time: Float64Array;
  /** By covariate: that of the failure less the mean of those at risk, weighted by their hazards. */
  residual: Float64Array[];
  /** The same as an estimate of the covariate's coefficient at that age, to be smoothed over ages. */
  scaled: Float64Array[];
};

/**
 * Schoenfeld residuals, and those scaled by the covariance of the coefficients: failures * covariance * residual + coefficient.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @returns a row for each life that failed, by age
 * @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them
 * @see D. Schoenfeld, Biometrika 69 (1982) 239-241; P. M. Grambsch & T. M. Therneau, Biometrika 81 (1994) 515-526
 * @example schoenfeldResiduals({ lives, covariates }, fit).scaled[0];
 */
export function schoenfeldResiduals(model: HazardModel, fit: ConvergedHazards): SchoenfeldResiduals {
  checkHazardModel(model);
  const sets = riskSets(model);
  const { time } = model.lives;
  const failed = failedLives(model, sets);
  const order = orderOf(Float64Array.from(failed, (life) => time[life]!));
  const life = Uint32Array.from(order, (at) => failed[at]!);
  const residual = residualsOf(sets, hazardSteps(sets, scaledCoefficients(sets, fit)).mean, life);
  const scaled = fit.covariance.map((row, one) =>
    Float64Array.from(life, (_, at) => {
      const lever = row.reduce((sum, value, other) => sum + value * residual[other]![at]!, 0);
      return fit.coefficients[one]! + fit.failures * lever;
    }),
  );
  return { life, time: Float64Array.from(life, (one) => time[one]!), residual, scaled };
}

function failedLives({ lives: { failed } }: HazardModel, { place, weight }: RiskSets): number[] {
  return Array.from(failed.keys()).filter((life) => failed[life] === 1 && weight?.[place[life]!] !== 0);
}

function residualsOf(sets: RiskSets, mean: Float64Array, life: Uint32Array): Float64Array[] {
  const { width, x, place, scales } = sets;
  const stepAt = stepByPlace(sets, place.length);
  return scales.map(({ size }, one) =>
    Float64Array.from(life, (own) => {
      const at = place[own]!;
      return size * (x[at * width + one]! - mean[stepAt[at]! * width + one]!);
    }),
  );
}

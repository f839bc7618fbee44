import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { scaledCoefficients } from "./hazard-residuals.ts";
import { type HazardSteps, hazardSteps, summedUp } from "./hazard-steps.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";

/** Cumulative hazard of one stratum, by columns with a value for each age with failures, ascending; survival is exp(-hazard). */
export type HazardCurve = {
  stratum: number;
  time: Float64Array;
  /** Cumulative hazard at the covariates asked for and an offset of 0. */
  hazard: Float64Array;
  /** Its standard error, that of the coefficients included. */
  se: Float64Array;
};

/**
 * Cumulative hazard of a life of given covariates, in each stratum: the sum over failure ages of failures over the relative hazards at risk, in
 * ties as in the fit.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @param at - a value of each covariate
 * @returns a curve a stratum, by stratum; a reason where the covariates lie so far off that no number holds the hazard
 * @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them, or not a finite value of each covariate
 * @see Therneau & Grambsch, Modeling Survival Data, ch. 10; J. D. Kalbfleisch & R. L. Prentice, The Statistical Analysis of Failure Time Data, ch. 4
 * @example baselineHazard({ lives, covariates }, fit, Float64Array.of(0.1));
 */
export function baselineHazard(
  model: HazardModel,
  fit: ConvergedHazards,
  at: Float64Array,
): HazardCurve[] | { reason: string } {
  checkHazardModel(model);
  if (at.length !== model.covariates.length || !at.every(Number.isFinite)) {
    throw new RangeError(`Cannot give a hazard: found [${at}] for ${model.covariates.length} covariates`);
  }
  const sets = riskSets(model);
  const b = scaledCoefficients(sets, fit);
  const x = sets.scales.map(({ centre, size }, one) => (at[one]! - centre) / size);
  const factor = Math.exp(x.reduce((sum, value, one) => sum + b[one]! * value, 0) - offsetCentre(model, sets));
  if (!(factor > 0 && factor < Number.POSITIVE_INFINITY))
    return { reason: "the covariates lie too far from those of the lives" };
  return curvesOf(sets, hazardSteps(sets, b), factor, variances(sets, fit, x));
}

/** What was taken off each offset. */
function offsetCentre({ offset }: HazardModel, sets: RiskSets): number {
  if (offset === undefined || sets.offset === null) return 0;
  const life = sets.place.findIndex((place) => sets.weight?.[place] !== 0);
  return offset[life]! - sets.offset[sets.place[life]!]!;
}

/** The part that the coefficients have in the variance at a step, the curve's factor apart. */
function variances(sets: RiskSets, { covariance }: ConvergedHazards, x: number[]) {
  const scaled = covariance.map((row, one) =>
    row.map((value, other) => value * sets.scales[one]!.size * sets.scales[other]!.size),
  );
  return (hazard: number, drift: Float64Array): number => {
    const lever = drift.map((value, one) => value - x[one]! * hazard);
    return scaled.reduce((sum, row, one) => {
      return sum + lever[one]! * row.reduce((own, value, other) => own + value * lever[other]!, 0);
    }, 0);
  };
}

function curvesOf(
  sets: RiskSets,
  steps: HazardSteps,
  factor: number,
  ofCoefficients: (hazard: number, drift: Float64Array) => number,
): HazardCurve[] {
  const { width, stratum, time } = sets;
  const hazard = summedUp(steps.rise, 1, stratum);
  const variance = summedUp(steps.variance, 1, stratum);
  const drift = summedUp(steps.drift, width, stratum);
  const curves: HazardCurve[] = [];
  for (let from = 0, to = 0; from < stratum.length; from = to) {
    while (to < stratum.length && stratum[to] === stratum[from]) to++;
    const se = Float64Array.from({ length: to - from }, (_, at) => {
      const step = from + at;
      const own = ofCoefficients(hazard[step]!, drift.subarray(step * width, (step + 1) * width));
      return factor * Math.sqrt(variance[step]! + own);
    });
    curves.push({
      stratum: stratum[from]!,
      time: time.slice(from, to).reverse(),
      hazard: hazard
        .slice(from, to)
        .map((value) => factor * value)
        .reverse(),
      se: se.reverse(),
    });
  }
  return curves;
}

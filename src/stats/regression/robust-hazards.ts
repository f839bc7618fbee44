import type { ChiSquareTest } from "./chi-square-test.ts";
import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { residualsAt, scaledCoefficients } from "./hazard-residuals.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { sandwichCovariance } from "./sandwich-covariance.ts";
import { waldTest } from "./wald-test.ts";

/** What a fit is worth where lives of a cluster may be alike. */
export type RobustHazards = {
  /** Of the coefficients, by rows. */
  covariance: number[][];
  /** Test that all coefficients are 0, by that covariance; null where there are too few clusters to tell the covariates apart. */
  wald: ChiSquareTest | null;
  /** The same by the slopes at 0. */
  score: ChiSquareTest | null;
};

/**
 * Covariance of the coefficients from score residuals added up by cluster, with no factor for few clusters: with few it is too small.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @param cluster - a number for each life; lives of different clusters are independent
 * @returns the covariance, with tests by it
 * @throws RangeError for columns that are not lives, covariates, strata, offsets, weights or clusters of them
 * @see D. Y. Lin & L. J. Wei, Journal of the American Statistical Association 84 (1989) 1074-1078; Therneau & Grambsch, Modeling Survival Data, ch. 8
 * @example robustHazards({ lives, covariates }, fit, unit).covariance;
 */
export function robustHazards(model: HazardModel, fit: ConvergedHazards, cluster: Int32Array): RobustHazards {
  checkHazardModel(model);
  checkClusters(model, cluster);
  const sets = riskSets(model);
  const all = [...fit.coefficients.keys()];
  const covariance = sandwichCovariance(fit.covariance, scoresAt(sets, scaledCoefficients(sets, fit)), cluster);
  const scores = scoresAt(sets, new Float64Array(sets.width));
  const slope = scores.map((column) => column.reduce((sum, own) => sum + own, 0));
  const spread = sandwichCovariance(unitMatrix(sets.width), scores, cluster);
  return {
    covariance,
    wald: waldTest(fit.coefficients, covariance, all),
    score: waldTest(slope, spread, all),
  };
}

/** @throws RangeError for clusters of another number than the lives */
export function checkClusters({ lives }: HazardModel, cluster: Int32Array): void {
  if (cluster.length !== lives.time.length) {
    throw new RangeError(`Cannot use the clusters: ${cluster.length} clusters for ${lives.time.length} lives`);
  }
}

/** Score residuals of the rows, a column for each covariate, with all that a row counts for. */
function scoresAt(sets: RiskSets, b: Float64Array): Float64Array[] {
  const { width, weight, place, scales } = sets;
  const { score } = residualsAt(sets, b);
  return scales.map(({ size }, one) =>
    Float64Array.from(place, (at) => size * (weight?.[at] ?? 1) * score[at * width + one]!),
  );
}

function unitMatrix(size: number): number[][] {
  return Array.from({ length: size }, (_, row) =>
    Array.from({ length: size }, (__, column) => (row === column ? 1 : 0)),
  );
}

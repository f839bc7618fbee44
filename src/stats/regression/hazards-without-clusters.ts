import { clusterRows } from "../cluster-rows.ts";
import { climb } from "./climb.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { failedSums } from "./failed-sums.ts";
import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { scaledCoefficients } from "./hazard-residuals.ts";
import { inverseInformation } from "./inverse-information.ts";
import { partialLikelihood } from "./partial-likelihood.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { termsOf } from "./risk-steps.ts";
import { checkClusters } from "./robust-hazards.ts";

/**
 * Coefficients without each cluster (unit) in turn, for a jackknife; over 200 clusters are put together in 200 by the seed.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @param cluster - a number for each life
 * @param seed - any whole number
 * @returns coefficients of the fit and of each refit, in the order in which clusters first appear; or why the lives left tell none
 * @throws RangeError for columns that are not lives, covariates, strata, offsets, weights or clusters of them
 * @see Lipsitz, Dear & Zhao, Biometrics 50 (1994) 842-846; Therneau & Grambsch, Modeling Survival Data, ch. 8
 * @example hazardsWithoutClusters({ lives, covariates }, fit, unit, 1);
 */
export function hazardsWithoutClusters(
  model: HazardModel,
  fit: ConvergedHazards,
  cluster: Int32Array,
  seed: number,
): ClusterRefits | { reason: string } {
  checkHazardModel(model);
  checkClusters(model, cluster);
  const groups = clusterRows(cluster, seed);
  if (groups.length < 2) return { reason: "all lives are of one unit" };
  const sets = riskSets(model);
  const start = scaledCoefficients(sets, fit);
  const without: Float64Array[] = [];
  for (const rows of groups) {
    const left = lessRows(model, sets, rows);
    if (left.failures.reduce((sum, own) => sum + own, 0) < 2) return { reason: TOO_FEW };
    const found = climb({ at: (b) => partialLikelihood(left, b) }, start, false);
    if (!found.found || inverseInformation(found.sums) === null) return { reason: UNTOLD };
    without.push(found.at.map((b, one) => b / sets.scales[one]!.size));
  }
  return { full: fit.coefficients.slice(), without };
}

const TOO_FEW = "without one unit fewer than two failures are left";
const UNTOLD = "without one unit the lives left don't tell every coefficient";

/** The same sets with some rows counting for nothing. */
function lessRows({ lives, ties }: HazardModel, sets: RiskSets, rows: readonly number[]): RiskSets {
  const { firstFailed, end } = sets;
  const weight = sets.weight?.slice() ?? new Float64Array(sets.place.length).fill(1);
  const [failing, failures, terms] = [sets.failing.slice(), sets.failures.slice(), sets.terms.slice()];
  for (const row of rows) {
    const place = sets.place[row]!;
    if (weight[place] === 0) continue;
    weight[place] = 0;
    if (lives.failed[row] === 0) continue;
    const step = stepUpTo(end, place);
    failures[step]! -= lives.count?.[row] ?? 1;
    terms[step] = termsOf(failures[step]!, ties !== "breslow");
    failing[step] = weight.subarray(firstFailed[step], end[step]).reduce((sum, own) => sum + own, 0);
  }
  const left = { ...sets, weight, failing, failures, terms };
  return { ...left, ...failedSums(left) };
}

/** The step whose lives lie around a place. */
function stepUpTo(end: Uint32Array, place: number): number {
  let [low, high] = [0, end.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (end[middle]! > place) high = middle;
    else low = middle + 1;
  }
  return low;
}

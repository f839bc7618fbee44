import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { scaledCoefficients } from "./hazard-residuals.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { countPairs, type PairCounts } from "./risk-pairs.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { checkClusters } from "./robust-hazards.ts";

/** How often of two lives the one of the higher hazard failed first. */
export type Concordance = PairCounts & {
  /** Share of the pairs that are told apart in age, those alike in hazard as half; null where there are none. */
  estimate: number | null;
  /** From the influence of each life, or cluster; null likewise. */
  se: number | null;
};

/**
 * Harrell's concordance of proportional hazards, in their own lives, for which it is a little too high.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @param cluster - a number for each life, where lives of a cluster may be alike
 * @returns share of pairs in the right order, and the pairs
 * @throws RangeError for columns that are not lives, covariates, strata, offsets, weights or clusters of them
 * @see F. E. Harrell et al., Statistics in Medicine 3 (1984) 143-152; T. M. Therneau & D. A. Watson, The concordance statistic and the Cox model,
 * Mayo Clinic Technical Report 85 (2017)
 * @example hazardConcordance({ lives, covariates }, fit).estimate;
 */
export function hazardConcordance(model: HazardModel, fit: ConvergedHazards, cluster?: Int32Array): Concordance {
  checkHazardModel(model);
  if (cluster !== undefined) checkClusters(model, cluster);
  const sets = riskSets(model);
  const { counts, influence } = countPairs(
    sets,
    logHazards(sets, scaledCoefficients(sets, fit)),
    squaresByPlace(model, sets),
  );
  const { concordant, discordant, tiedHazards } = counts;
  const pairs = concordant + discordant + tiedHazards;
  if (pairs === 0) return { estimate: null, se: null, ...counts };
  const lead = (concordant - discordant) / pairs;
  const parts = Float64Array.from(sets.place, (place) => {
    const [ahead, all] = [influence[2 * place]!, influence[2 * place + 1]!];
    return (ahead - lead * all) / pairs;
  });
  return { estimate: (lead + 1) / 2, se: Math.sqrt(spread(model, parts, cluster)) / 2, ...counts };
}

/** Of each row the squares of its lives' weights together. */
function squaresByPlace({ lives: { count }, weight }: HazardModel, { place }: RiskSets): Float64Array {
  const squares = new Float64Array(place.length);
  for (let life = 0; life < place.length; life++)
    squares[place[life]!] = (count?.[life] ?? 1) * (weight?.[life] ?? 1) ** 2;
  return squares;
}

/** Sum of squares of what rows add, each of the lives that one stands for by itself unless they are of one cluster. */
function spread(
  { lives: { count }, weight }: HazardModel,
  parts: Float64Array,
  cluster: Int32Array | undefined,
): number {
  const own = parts.map((part, life) => part * (weight?.[life] ?? 1));
  if (cluster === undefined) return own.reduce((sum, part, life) => sum + (count?.[life] ?? 1) * part * part, 0);
  const sums = new Map<number, number>();
  for (const [life, part] of own.entries()) {
    sums.set(cluster[life]!, (sums.get(cluster[life]!) ?? 0) + (count?.[life] ?? 1) * part);
  }
  return [...sums.values()].reduce((sum, part) => sum + part * part, 0);
}

function logHazards({ width, x, offset, place }: RiskSets, b: Float64Array): Float64Array {
  return Float64Array.from({ length: place.length }, (_, at) => {
    let log = offset?.[at] ?? 0;
    for (let one = 0; one < width; one++) log += b[one]! * x[at * width + one]!;
    return log;
  });
}

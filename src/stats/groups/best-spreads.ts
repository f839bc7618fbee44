import { type BestMeans, bestMeans } from "./best-means.ts";
import type { MarginalGroup } from "./marginal-likelihood.ts";
import { inverse, type Pair, raised, type Symmetric, times } from "./pair.ts";

/** Standard deviations of half-normal priors on the spreads of log scale and log shape; null: flat from 0. */
export type SpreadPriors = { logScale: number; logShape: number } | null;

/** The likeliest population: means and spreads of greatest likelihood, times the spreads' priors where they have some. */
export type BestSpreads = BestMeans & {
  /** Minus the second derivatives by the log spreads, the means following along. */
  curvature: Symmetric;
};

/** A spread below this, one percent between groups, is none; the search stays within. */
export const SPREAD_LIMITS = { least: 0.01, most: 50 } as const;
const MOST_STEPS = 80;
const SETTLED = 1e-7;
const LONGEST_STEP = 1;

/** Log density of the half-normal priors, up to a constant, on the spreads themselves. */
export function logPrior(priors: SpreadPriors, [scale, shape]: Pair): number {
  return priors === null ? 0 : -((scale / priors.logScale) ** 2 + (shape / priors.logShape) ** 2) / 2;
}

/** Maximum over the spreads by Newton steps on their logs, within limits: one at the least is no spread. */
export function bestSpreads(groups: MarginalGroup[], priors: SpreadPriors, start: BestMeans): BestSpreads | null {
  let at: BestMeans = start;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const { slope, curvature } = slopesAt(at, priors);
    const { step, gain } = stepOf(at.spread, slope, curvature);
    const next = gain < SETTLED ? null : risen(groups, at, step, priors);
    if (next === null) return { ...at, curvature };
    at = next;
  }
  return null;
}

/** By log spread: the score, and the second derivatives less what the means take up. */
function slopesAt({ marginal, spread, information }: BestMeans, priors: SpreadPriors) {
  const { score, hessian } = marginal;
  const pull: Pair =
    priors === null ? [0, 0] : [(spread[0] / priors.logScale) ** 2, (spread[1] / priors.logShape) ** 2];
  const slope: Pair = [score[2]! - pull[0], score[3]! - pull[1]];
  const covariance = inverse(information);
  const across = [0, 1].map((spreadOf): Pair => [hessian[2 + spreadOf]!, hessian[6 + spreadOf]!]) as [Pair, Pair];
  const taken = (i: 0 | 1, j: 0 | 1) => {
    const [x, y] = times(covariance, across[j]);
    return across[i][0] * x + across[i][1] * y;
  };
  const curvature: Symmetric = [
    -hessian[10]! - taken(0, 0) + 2 * pull[0],
    -hessian[11]! - taken(0, 1),
    -hessian[15]! - taken(1, 1) + 2 * pull[1],
  ];
  return { slope, curvature };
}

/** Newton's step in the spreads that are free: one at a limit and pushed outwards stays. */
function stepOf(spread: Pair, slope: Pair, curvature: Symmetric): { step: Pair; gain: number } {
  const held = spread.map((value, at) => atLimit(value, slope[at]!)) as [boolean, boolean];
  const free: Pair = [held[0] ? 0 : slope[0], held[1] ? 0 : slope[1]];
  const across = held[0] || held[1] ? 0 : curvature[1];
  // Far below its best value a log spread has a slope and a curvature that both vanish: the step must not.
  const least = Math.max(Math.abs(free[0]), Math.abs(free[1]), 1e-6) / 2;
  const hill = raised([held[0] ? 1 : curvature[0], across, held[1] ? 1 : curvature[2]], least);
  const step = times(inverse(hill), free);
  const longest = Math.max(Math.abs(step[0]) / LONGEST_STEP, Math.abs(step[1]) / LONGEST_STEP, 1);
  return { step: [step[0] / longest, step[1] / longest], gain: (free[0] * step[0] + free[1] * step[1]) / 2 };
}

function atLimit(spread: number, slope: number): boolean {
  return (spread <= SPREAD_LIMITS.least && slope < 0) || (spread >= SPREAD_LIMITS.most && slope > 0);
}

function risen(groups: MarginalGroup[], at: BestMeans, step: Pair, priors: SpreadPriors): BestMeans | null {
  const before = at.value + logPrior(priors, at.spread);
  for (let part = 1; part > 1e-4; part /= 2) {
    const spread: Pair = [moved(at.spread[0], part * step[0]), moved(at.spread[1], part * step[1])];
    const next = bestMeans(groups, spread, at.mean);
    if (next !== null && next.value + logPrior(priors, spread) > before) return next;
  }
  return null;
}

function moved(spread: number, by: number): number {
  return Math.min(Math.max(spread * Math.exp(by), SPREAD_LIMITS.least), SPREAD_LIMITS.most);
}

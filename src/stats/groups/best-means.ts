import { type Marginal, type MarginalGroup, marginalLikelihood } from "./marginal-likelihood.ts";
import { form, inverse, type Pair, raised, type Symmetric, times } from "./pair.ts";

/** The means of a population at given spreads, as good as the best. */
export type BestMeans = {
  mean: Pair;
  spread: Pair;
  /** Greatest log of the marginal likelihood: there, and what the last small step would still gain. */
  value: number;
  /** Minus its second derivatives by the means. */
  information: Symmetric;
  marginal: Marginal;
};

const MOST_STEPS = 60;
/** Error of a quadrature, by which a step that gains may seem to lose. */
const QUADRATURE = 1e-4;
/** Longest step of a mean of logs. */
const LONGEST_STEP = 3;

/**
 * Maximum over the two means with the spreads held, by Newton steps halved until the likelihood rises.
 * @param settled - what a further step would gain in log-likelihood when the search ends
 * @returns null where there is none
 */
export function bestMeans(groups: MarginalGroup[], spread: Pair, start: Pair, settled = 1e-8): BestMeans | null {
  let at = pointAt(groups, spread, start);
  for (let steps = 0; at !== null && steps < MOST_STEPS; steps++) {
    const slope: Pair = [at.marginal.score[0]!, at.marginal.score[1]!];
    const covariance = inverse(
      raised(at.information, 1e-6 * (Math.abs(at.information[0]) + Math.abs(at.information[2]))),
    );
    const gain = form(covariance, slope) / 2;
    if (gain < settled) return at.information[0] > 0 ? { ...at, value: at.value + gain } : null;
    at = risen(groups, at, times(covariance, slope));
  }
  return null;
}

function pointAt(groups: MarginalGroup[], spread: Pair, mean: Pair): BestMeans | null {
  const marginal = marginalLikelihood(groups, { mean, spread });
  if (marginal === null) return null;
  const { hessian, value } = marginal;
  return { mean, spread, value, information: [-hessian[0]!, -hessian[1]!, -hessian[5]!], marginal };
}

function risen(groups: MarginalGroup[], at: BestMeans, step: Pair): BestMeans | null {
  const longest = Math.max(Math.abs(step[0]) / LONGEST_STEP, Math.abs(step[1]) / LONGEST_STEP, 1);
  for (let part = 1 / longest; part > 1e-6; part /= 2) {
    const next = pointAt(groups, at.spread, [at.mean[0] + part * step[0], at.mean[1] + part * step[1]]);
    if (next !== null && next.value > at.value - QUADRATURE) return next;
  }
  return null;
}

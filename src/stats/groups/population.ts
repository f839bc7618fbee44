import type { Interval } from "../fit/quantity.ts";
import { normalHalfWidth } from "../level.ts";
import { bestMeans } from "./best-means.ts";
import { type BestSpreads, bestSpreads, SPREAD_LIMITS, type SpreadPriors } from "./best-spreads.ts";
import { commonShapeOf } from "./common-shape.ts";
import type { GatheredGroup } from "./gather-groups.ts";
import type { MarginalGroup } from "./marginal-likelihood.ts";
import { mixedQuantile, rangeOf } from "./mixed-quantile.ts";
import { inverse, type Pair } from "./pair.ts";
import { type SpreadCell, type SpreadGrid, spreadGrid } from "./spread-grid.ts";

/** A standard deviation between groups: median and limits over the grid, and the value of greatest likelihood (times prior). */
export type Spread = Interval & {
  /** 0 where the likelihood is greatest without any spread (below one percent between groups). */
  likeliest: number;
};

/** What groups of this kind are like. */
export type PopulationFigures = {
  /** Scale of the middle group, in the unit of the lives: exp of the mean of the logs, averaged over the spreads. */
  scale: Interval;
  /** Shape of the middle group, likewise. */
  shape: Interval;
  /** Of log scale between groups. */
  logScaleSpread: Spread;
  /** Of log shape between groups. */
  logShapeSpread: Spread;
  /** Marginal log-likelihood of the ages at the likeliest means and spreads; no prior in it. */
  logLikelihood: number;
  /** The likeliest means of log scale and log shape. */
  likeliestMeans: { logScale: number; logShape: number };
};

export type FittedPopulation = {
  cells: SpreadCell[];
  /** Log shape where each group's integral has its top. */
  tops: number[];
  figures(level: number): PopulationFigures;
};

/** Fits the means and spreads of the groups' log scales and log shapes to the groups that can be used. */
export function fitPopulation(
  groups: GatheredGroup[],
  priors: SpreadPriors,
): { found: true; population: FittedPopulation } | { found: false; reason: string } {
  const start = startOf(groups);
  if ("reason" in start) return { found: false, reason: start.reason };
  const parts: MarginalGroup[] = groups.flatMap((group) =>
    group.usable ? [{ lives: group.lives, top: start.mean[1] }] : [],
  );
  const first = bestMeans(parts, start.spread, start.mean);
  const best = first === null ? null : bestSpreads(parts, priors, first);
  const grid = best === null ? null : spreadGrid(parts, priors, best);
  if (best === null || grid === null) {
    return { found: false, reason: "the likelihood of the spread between groups shows no clear maximum" };
  }
  const tops = parts.map(({ top }) => top);
  return { found: true, population: { cells: grid.cells, tops, figures: (level) => figuresOf(best, grid, level) } };
}

/** The fit with one shape, and how far its scales are apart; a spread of 0.2 in log shape. */
function startOf(groups: GatheredGroup[]): { mean: Pair; spread: Pair } | { reason: string } {
  const common = commonShapeOf(groups);
  if (!common.converged) return { reason: common.reason };
  const logs = common.groups.flatMap((fit) => (fit.converged ? [Math.log(fit.scale)] : []));
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / logs.length;
  return {
    mean: [mean, Math.log(common.shape)],
    spread: [Math.min(Math.max(Math.sqrt(squares), 0.1), SPREAD_LIMITS.most), 0.2],
  };
}

function figuresOf(best: BestSpreads, { cells, logSpreads }: SpreadGrid, level: number): PopulationFigures {
  const spread = (axis: 0 | 1): Spread => {
    const mixture = [{ part: logSpreads[axis], weight: 1, shift: 0 }];
    const at = (p: number) => Math.exp(mixedQuantile(mixture, p, rangeOf(mixture)));
    const likeliest = best.spread[axis] <= SPREAD_LIMITS.least ? 0 : best.spread[axis];
    return { estimate: at(0.5), low: at((1 - level) / 2), high: at((1 + level) / 2), likeliest };
  };
  return {
    scale: meanInterval(cells, 0, level),
    shape: meanInterval(cells, 1, level),
    logScaleSpread: spread(0),
    logShapeSpread: spread(1),
    logLikelihood: best.value,
    likeliestMeans: { logScale: best.mean[0], logShape: best.mean[1] },
  };
}

/** Normal on the log scale, with the variance within and between the cells of the grid. */
function meanInterval(cells: SpreadCell[], axis: 0 | 1, level: number): Interval {
  const points = cells.map(({ at, weight, grid }) => {
    const { mean, covariance } = grid ?? { mean: at.mean, covariance: inverse(at.information) };
    return { mean: mean[axis], variance: covariance[2 * axis]!, weight };
  });
  const total = points.reduce((sum, { weight }) => sum + weight, 0);
  const mean = points.reduce((sum, point) => sum + point.weight * point.mean, 0) / total;
  const squares = points.reduce((sum, point) => sum + point.weight * (point.variance + (point.mean - mean) ** 2), 0);
  const variance = squares / total;
  const reach = normalHalfWidth(level) * Math.sqrt(variance);
  return { estimate: Math.exp(mean), low: Math.exp(mean - reach), high: Math.exp(mean + reach) };
}

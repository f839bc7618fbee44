import { type BestMeans, bestMeans } from "./best-means.ts";
import { type BestSpreads, logPrior, SPREAD_LIMITS, type SpreadPriors } from "./best-spreads.ts";
import { type GridDistribution, gridDistribution } from "./grid-distribution.ts";
import type { MarginalGroup } from "./marginal-likelihood.ts";
import { type MeanGrid, meanGrid } from "./mean-grid.ts";
import { determinant, type Pair } from "./pair.ts";

/** A pair of spreads with the best means there, and its share of the posterior probability. */
export type SpreadCell = {
  at: BestMeans;
  weight: number;
  /** The likelihood over the means on a grid; null where they are taken as normal about the best. */
  grid: MeanGrid | null;
};

/** The posterior of the two spreads on an even grid of their logs. */
export type SpreadGrid = {
  cells: SpreadCell[];
  /** Of each log spread. */
  logSpreads: [GridDistribution, GridDistribution];
};

/** Log densities this far below the greatest count for nothing. */
const LOWEST = 6;
/** Cells of less than this share of the likeliest one's are not carried on. */
const LEAST_WEIGHT = 2e-3;
const MOST_NODES = 60;

/** Leaves the means within a hundredth of their standard deviation. */
const NEAR_ENOUGH = 1e-4;

type Cell = { at: BestMeans; density: number; grid: MeanGrid | null };

/**
 * Posterior of the log spreads: marginal likelihood with the means integrated out (flat prior; on a grid, or from 150
 * failures by Laplace's method) times the priors, times the spreads, for the step from spread to log spread.
 */
export function spreadGrid(groups: MarginalGroup[], priors: SpreadPriors, best: BestSpreads): SpreadGrid | null {
  const evaluate = (logs: Pair, start: Pair) => cellAt(groups, priors, logs, start);
  const steps: Pair = [stepOf(best, 0), stepOf(best, 1)];
  const middle: Pair = [Math.log(Math.max(best.spread[0], 0.05)), Math.log(Math.max(best.spread[1], 0.05))];
  const centre = evaluate(middle, best.mean);
  if (centre === null) return null;
  const axes = [0, 1].map((axis) => walkAxis(evaluate, centre, middle, axis as 0 | 1, steps[axis]!)) as [Axis, Axis];
  const exact = groups.reduce((sum, { lives }) => sum + lives.failures, 0) < ENOUGH_FAILURES;
  const cells = fill(evaluate, axes, centre, middle, steps).map((placed) => ({
    place: placed.place,
    cell: exact ? overMeans(groups, placed.cell) : placed.cell,
  }));
  const largest = cells.reduce((most, { cell }) => Math.max(most, cell.density), Number.NEGATIVE_INFINITY);
  const sums = axes.map(({ from, densities }) => ({ from, masses: new Float64Array(densities.length) })) as [
    Sums,
    Sums,
  ];
  let total = 0;
  const weighted = cells.map(({ cell, place }) => {
    const weight = Math.exp(cell.density - largest);
    for (const axis of [0, 1] as const) sums[axis].masses[place[axis] - sums[axis].from]! += weight;
    total += weight;
    return { at: cell.at, grid: cell.grid, weight };
  });
  return {
    cells: weighted
      .filter(({ weight }) => weight > LEAST_WEIGHT)
      .map((cell) => ({ ...cell, weight: cell.weight / total })),
    logSpreads: [0, 1].map((axis) => {
      const { from, masses } = sums[axis as 0 | 1];
      return gridDistribution(middle[axis]! + from * steps[axis]!, steps[axis]!, masses);
    }) as [GridDistribution, GridDistribution],
  };
}

const LOG_TWO_PI = Math.log(2 * Math.PI);

type Evaluate = (logs: Pair, start: Pair) => Cell | null;
type Sums = { from: number; masses: Float64Array };
/** Densities along one axis through the middle, from the place `from` on. */
type Axis = { from: number; densities: number[] };

function cellAt(groups: MarginalGroup[], priors: SpreadPriors, logs: Pair, start: Pair): Cell | null {
  const spread: Pair = [Math.exp(logs[0]), Math.exp(logs[1])];
  const at = bestMeans(groups, spread, start, NEAR_ENOUGH);
  if (at === null) return null;
  const information = determinant(at.information);
  if (!(information > 0)) return null;
  return {
    at,
    density: at.value + logPrior(priors, spread) + logs[0] + logs[1] + LOG_TWO_PI - Math.log(information) / 2,
    grid: null,
  };
}

/** One standard deviation of the log spread: the trapezium rule errs by e^-20 on a normal density. */
function stepOf({ curvature, spread }: BestSpreads, axis: 0 | 1): number {
  const bend = curvature[2 * axis]!;
  if (!(bend > 0) || spread[axis] <= SPREAD_LIMITS.least) return 0.8;
  return Math.min(Math.max(1 / Math.sqrt(bend), 0.02), 0.8);
}

/** From so many failures on the means are as good as normal. */
const ENOUGH_FAILURES = 150;

/** The same cell with the means on a grid in place of Laplace's method. */
function overMeans(groups: MarginalGroup[], cell: Cell): Cell {
  const grid = meanGrid(groups, cell.at);
  if (grid === null) return cell;
  const laplace = cell.at.value + LOG_TWO_PI - Math.log(determinant(cell.at.information)) / 2;
  return { at: cell.at, density: cell.density - laplace + grid.logIntegral, grid };
}

function walkAxis(evaluate: Evaluate, centre: Cell, middle: Pair, axis: 0 | 1, step: number): Axis {
  let largest = centre.density;
  const walk = (side: 1 | -1) => {
    const found: number[] = [];
    let start = centre.at.mean;
    for (let node = 1; node < MOST_NODES; node++) {
      const logs: Pair = [...middle];
      logs[axis] += side * node * step;
      if (logs[axis] < Math.log(SPREAD_LIMITS.least) || logs[axis] > Math.log(SPREAD_LIMITS.most)) break;
      const cell = evaluate(logs, start);
      if (cell === null || cell.density < largest - LOWEST) break;
      largest = Math.max(largest, cell.density);
      start = cell.at.mean;
      found.push(cell.density);
    }
    return found;
  };
  const up = walk(1);
  const down = walk(-1).reverse();
  return { from: -down.length, densities: [...down, centre.density, ...up] };
}

/** All cells that the two axes let expect to count. */
function fill(evaluate: Evaluate, [scale, shape]: [Axis, Axis], centre: Cell, middle: Pair, steps: Pair) {
  const cells: { cell: Cell; place: Pair }[] = [];
  const most = Math.max(...scale.densities) + Math.max(...shape.densities);
  for (const [i, first] of scale.densities.entries()) {
    let start = centre.at.mean;
    for (const [j, second] of shape.densities.entries()) {
      if (first + second < most - LOWEST) continue;
      const place: Pair = [scale.from + i, shape.from + j];
      const logs: Pair = [middle[0] + place[0] * steps[0], middle[1] + place[1] * steps[1]];
      const cell = evaluate(logs, start);
      if (cell === null) continue;
      start = cell.at.mean;
      cells.push({ cell, place });
    }
  }
  return cells;
}

import type { BestMeans } from "./best-means.ts";
import type { EffectPrior } from "./effect-density.ts";
import { type MarginalGroup, marginalLikelihood } from "./marginal-likelihood.ts";
import { determinant, inverse, type Pair, type Symmetric } from "./pair.ts";

/** The likelihood integrated over the means at given spreads. */
export type MeanGrid = {
  logIntegral: number;
  /** Mean and covariance of the means. */
  mean: Pair;
  covariance: Symmetric;
  /** What the other groups say of each group's effects; null where they say too little for this grid. */
  others: (EffectPrior | null)[];
};

/** In standard deviations; how far out, and the squared distance beyond which corners are left out. */
const STEP = 1.1;
const REACH = 3;
const FURTHEST = 13;

type Node = { mean: Pair; value: number; parts: { value: number }[] };

/** Integrates the marginal likelihood over the means on a grid along the axes of its curvature. */
export function meanGrid(groups: MarginalGroup[], { mean, spread, information, marginal }: BestMeans): MeanGrid | null {
  const covariance = inverse(information);
  const first = Math.sqrt(covariance[0]);
  const along = covariance[1] / first;
  const second = Math.sqrt(determinant(covariance)) / first;
  const nodes: Node[] = [];
  for (const [i, j] of places()) {
    const node: Pair = [mean[0] + i * first, mean[1] + i * along + j * second];
    const found = marginalLikelihood(groups, { mean: node, spread });
    if (found === null) return null;
    nodes.push({ mean: node, value: found.value, parts: found.parts });
  }
  const all = momentsOf(nodes, ({ value }) => value);
  return {
    logIntegral: all.logSum + Math.log(STEP * STEP * first * second),
    mean: all.mean,
    covariance: all.covariance,
    others: groups.map((_, group) =>
      reachesOthers(information, marginal.parts[group]!.hessian) ? othersOf(nodes, group, spread) : null,
    ),
  };
}

function places(): Pair[] {
  const steps = Array.from({ length: 2 * REACH + 1 }, (_, at) => (at - REACH) * STEP);
  return steps.flatMap((i) => steps.map((j): Pair => [i, j])).filter(([i, j]) => i * i + j * j <= FURTHEST);
}

function momentsOf(nodes: Node[], logWeight: (node: Node) => number) {
  const largest = nodes.reduce((most, node) => Math.max(most, logWeight(node)), Number.NEGATIVE_INFINITY);
  let total = 0;
  const [origin] = nodes;
  const start: Pair = origin?.mean ?? [0, 0];
  const sums = [0, 0, 0, 0, 0] as [number, number, number, number, number];
  for (const node of nodes) {
    const weight = Math.exp(logWeight(node) - largest);
    const [x, y] = [node.mean[0] - start[0], node.mean[1] - start[1]];
    total += weight;
    for (const [at, term] of [x, y, x * x, x * y, y * y].entries()) sums[at as 0]! += weight * term;
  }
  const [x, y, xx, xy, yy] = sums.map((sum) => sum / total) as typeof sums;
  return {
    logSum: largest + Math.log(total),
    mean: [start[0] + x, start[1] + y] as Pair,
    covariance: [xx - x * x, xy - x * y, yy - y * y] as Symmetric,
  };
}

/** The others alone must hold most of what all know of either mean, else the grid is too narrow for them. */
function reachesOthers(information: Symmetric, own: Symmetric): boolean {
  const others: Symmetric = [information[0] + own[0], information[1] + own[1], information[2] + own[2]];
  const [all, left] = [inverse(information), inverse(others)];
  return determinant(others) > 0 && others[0] > 0 && left[0] < WIDEST * all[0] && left[2] < WIDEST * all[2];
}

/** Variance of a mean without the group over that with it. */
const WIDEST = 3;

/** The means' moments without the group, and the spread between groups about them. */
function othersOf(nodes: Node[], group: number, spread: Pair): EffectPrior {
  const { mean, covariance } = momentsOf(nodes, ({ value, parts }) => value - parts[group]!.value);
  const [xx, xy, yy] = covariance;
  return { centre: mean, precision: inverse([xx + spread[0] ** 2, xy, yy + spread[1] ** 2]), tilt: [0, 0] };
}

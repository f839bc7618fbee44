import type { CrossedGraph } from "./crossed-graph.ts";
import { type CrossedMode, inner } from "./crossed-mode.ts";
import { sparseSolve } from "./sparse-factor.ts";
import { sparseInverse } from "./sparse-inverse.ts";

/** By the log of the standard deviation of the units' effects, and of the positions'. */
export type SpreadSlopes = { unit: number; position: number };

/**
 * How Laplace's approximation at the mode rises with the spreads of the effects. The mode moves with them, and with it the curvature;
 * what that does comes from one solve with the curvature for both spreads.
 * @param sd - standard deviation of the effect of each point, at which the mode was found
 * @param mode - with its level free
 * @see T. Kristensen et al., J. Statist. Softw. 70 (2016) no. 5, section 2.1, for the terms
 */
export function crossedSlope(
  graph: CrossedGraph,
  sd: Float64Array,
  { effect, factor, mean }: CrossedMode,
): SpreadSlopes {
  const { points, unitPoints } = graph;
  const { diagonal, value } = sparseInverse(factor, graph);
  // Of each row, what the log determinant gains as its mean does on the log scale; summed by point, and over all.
  const [gain, weight] = [new Float64Array(points), new Float64Array(points)];
  let [gainSum, weightSum] = [0, 0];
  for (const [at, own] of mean.entries()) {
    const [unit, position] = [graph.first[at]!, graph.second[at]!];
    const rise = own * (diagonal[unit]! + diagonal[position]! + 2 * value[at]!);
    gainSum += rise;
    weightSum += own;
    for (const point of [unit, position]) {
      gain[point]! += rise;
      weight[point]! += own;
    }
  }
  const byGain = sparseSolve(factor, gain);
  const byWeight = sparseSolve(factor, weight);
  const level = (gainSum - inner(weight, byGain)) / (weightSum - inner(weight, byWeight));
  const slopeOver = (from: number, to: number) => {
    let sum = 0;
    for (let point = from; point < to; point++) {
      const precision = sd[point]! ** -2;
      const moved = byGain[point]! - level * byWeight[point]!;
      sum += precision * (effect[point]! * (effect[point]! - moved) + diagonal[point]!) - 1;
    }
    return sum;
  };
  return { unit: slopeOver(0, unitPoints), position: slopeOver(unitPoints, points) };
}

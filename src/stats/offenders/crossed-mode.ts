import type { Cells } from "./cells.ts";
import { sumOf } from "./counts.ts";
import type { CrossedGraph } from "./crossed-graph.ts";
import { logFactorial } from "./log-factorial.ts";
import { type SparseFactor, sparseFactor, sparseLogDeterminant, sparseSolve } from "./sparse-factor.ts";
import type { SparsePattern } from "./sparse-pattern.ts";

/** Level and effects that are most likely together at given standard deviations of the effects. */
export type CrossedMode = {
  level: number;
  effect: Float64Array;
  /** Of the curvature in the effects. */
  factor: SparseFactor;
  marginal: number;
  /** Expected events of each row that joins two points. */
  mean: Float64Array;
};

/** Standard deviation of the effect of each point; the level where it is held. */
export type CrossedPrior = { sd: Float64Array; level?: number };

const MOST_STEPS = 60;
/** Rise of the log-likelihood that is taken for none: a part of its size, which sums of many rows round to, and a little. */
const NEGLIGIBLE = 1e-13;
const SMALL = 1e-10;

/**
 * Newton's method for level and effects together, which the sum of Poisson and normal log-likelihoods has one top for; and Laplace's
 * approximation there of the likelihood with the effects integrated out: log-likelihood at the top less half the log determinant of its
 * curvature in the effects.
 * @param from - level and effects to start from
 * @returns null where the curvature can't be taken apart in numbers
 */
export function crossedMode(
  cells: Cells,
  graph: CrossedGraph,
  pattern: SparsePattern,
  prior: CrossedPrior,
  from: { level: number; effect: Float64Array },
): CrossedMode | null {
  const precision = prior.sd.map((sd) => sd ** -2);
  let here = bentAt(cells, graph, precision, prior.level ?? from.level, from.effect);
  for (let step = 0; step < MOST_STEPS; step++) {
    const factor = sparseFactor(pattern, { ...here.matrix, first: graph.first, second: graph.second });
    if (factor === null) return null;
    const bySlope = sparseSolve(factor, here.slope);
    const byLevel = sparseSolve(factor, here.weight);
    const levelStep =
      prior.level === undefined
        ? (here.levelSlope - inner(here.weight, bySlope)) / (here.weightSum - inner(here.weight, byLevel))
        : 0;
    const next = climbed(here, bySlope, byLevel, levelStep, (level, effect) =>
      bentAt(cells, graph, precision, level, effect),
    );
    const rise = next === null ? 0 : next.value - here.value;
    if (next === null || rise < SMALL + NEGLIGIBLE * Math.abs(here.value))
      return finished(graph, prior, next ?? here, pattern);
    here = next;
  }
  return finished(graph, prior, here, pattern);
}

type Bent = {
  level: number;
  effect: Float64Array;
  /** Penalised log-likelihood. */
  value: number;
  slope: Float64Array;
  levelSlope: number;
  /** Expected events of each point, and of all. */
  weight: Float64Array;
  weightSum: number;
  /** Minus the second derivatives by the effects. */
  matrix: { diagonal: Float64Array; value: Float64Array };
};

function bentAt(cells: Cells, graph: CrossedGraph, precision: Float64Array, level: number, effect: Float64Array): Bent {
  const slope = effect.map((value, point) => -value * precision[point]!);
  const diagonal = precision.slice();
  const weight = new Float64Array(graph.points);
  const pairs = new Float64Array(graph.cells.length);
  let [value, levelSlope, weightSum] = [0, 0, 0];
  for (let point = 0; point < graph.points; point++) value += (slope[point]! * effect[point]!) / 2;
  for (let at = 0; at < graph.cells.length; at++) {
    const cell = graph.cells[at]!;
    const [unit, position] = [graph.first[at]!, graph.second[at]!];
    const log = Math.log(cells.expected[cell]!) + level + effect[unit]! + effect[position]!;
    const mean = Math.exp(log);
    const events = cells.events[cell]!;
    value += events * log - mean - logFactorial(events);
    levelSlope += events - mean;
    weightSum += mean;
    pairs[at] = mean;
    for (const point of [unit, position]) {
      slope[point]! += events - mean;
      weight[point]! += mean;
      diagonal[point]! += mean;
    }
  }
  return { level, effect, value, slope, levelSlope, weight, weightSum, matrix: { diagonal, value: pairs } };
}

/** The first of ever shorter steps that does not fall; null where none does. */
function climbed(
  here: Bent,
  bySlope: Float64Array,
  byLevel: Float64Array,
  levelStep: number,
  at: (level: number, effect: Float64Array) => Bent,
): Bent | null {
  for (let share = 1; share > 1e-6; share /= 4) {
    const effect = here.effect.map((value, point) => value + share * (bySlope[point]! - levelStep * byLevel[point]!));
    const next = at(here.level + share * levelStep, effect);
    if (next.value >= here.value) return next;
  }
  return null;
}

function finished(graph: CrossedGraph, { sd }: CrossedPrior, at: Bent, pattern: SparsePattern): CrossedMode | null {
  const factor = sparseFactor(pattern, { ...at.matrix, first: graph.first, second: graph.second });
  if (factor === null) return null;
  const marginal = at.value - sumOf(sd.map(Math.log)) - sparseLogDeterminant(factor) / 2;
  return { level: at.level, effect: at.effect, factor, marginal, mean: at.matrix.value };
}

export function inner(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < a.length; at++) sum += a[at]! * b[at]!;
  return sum;
}

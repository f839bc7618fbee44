import { type Cells, checkCells } from "./cells.ts";
import { type CrossedGraph, crossedGraph } from "./crossed-graph.ts";
import { type CrossedMode, type CrossedSpreads, crossedMode } from "./crossed-mode.ts";
import { quasiNewton } from "./quasi-newton.ts";
import { sparseInverse } from "./sparse-inverse.ts";
import { sparsePattern } from "./sparse-pattern.ts";

/** Effects of one kind, on the log of the ratio of events to expected. A value per unit, or per position. */
export type Effects = {
  /** Most likely value given all counts: 0 is ordinary. */
  mean: Float64Array;
  /** Standard deviation given all counts. */
  sd: Float64Array;
  /** Number of the connected part of the graph of units and positions, the same for both kinds; -1: nothing was expected of it. */
  component: Int32Array;
};

/** What units and what positions do to the rate. */
export type FoundCrossedEffects = {
  found: true;
  /** Log ratio of events to expected at effects of 0. */
  level: number;
  /** Standard deviation of the units' effects; 0.01 stands for less too. */
  unitSd: number;
  /** Of the positions' effects. */
  positionSd: number;
  /** With the effects integrated out by Laplace's approximation, no constant dropped. */
  logLikelihood: number;
  /** A value per unit. */
  unit: Effects;
  /** A value per position. */
  position: Effects;
  /** Of each row, the posterior correlation of its unit's and its position's effect; 0 where nothing was expected. */
  correlation: Float64Array;
};

/** The effects, or why there are none. */
export type CrossedEffects = FoundCrossedEffects | { found: false; reason: string };

/**
 * Effects of units and of positions on the rate of events, from units that ran at several positions: events are Poisson about
 * expected * exp(level + unit's effect + position's effect), effects of either kind normal about 0. Spreads are those of greatest
 * likelihood, the effects integrated out by Laplace's approximation; with over 10,000 rows, of every so many connected parts. Matrices are sparse, so that thousands of units and positions
 * will do, unless nearly all of them are joined through many moves.
 * @param cells - events and expected events of each unit at each position where it ran
 * @returns level, spreads, effects and how they hang together; or why neither
 * @throws RangeError for columns that are not such counts
 * @see N. E. Breslow & D. G. Clayton, J. Amer. Statist. Assoc. 88 (1993) 9-25; McCulloch, Searle & Neuhaus, Generalized, Linear, and
 * Mixed Models, 2nd edition, ch. 7
 * @example
 * fitCrossedEffects({
 *   unit: Int32Array.of(0, 0, 1, 1),
 *   position: Int32Array.of(0, 1, 0, 1),
 *   events: Float64Array.of(12, 2, 14, 3),
 *   expected: Float64Array.of(4, 3, 4, 4),
 *   units: 2,
 *   positions: 2,
 * });
 */
export function fitCrossedEffects(cells: Cells): CrossedEffects {
  checkCells(cells);
  const graph = crossedGraph(cells);
  const reason = refusalOf(cells, graph);
  if (reason !== null) return { found: false, reason };
  const sample = sampledRows(cells, graph);
  const spreads = likeliestSpreads(sample, sample === cells ? graph : crossedGraph(sample));
  const pattern = sparsePattern(graph.neighbours, MOST_WORK);
  if (spreads === null || pattern === null) {
    return { found: false, reason: "too many units and positions hang together through too many moves" };
  }
  const mode = crossedMode(cells, graph, pattern, spreads, { level: 0, effect: new Float64Array(graph.points) });
  if (mode === null) return { found: false, reason: "the counts are too far apart to be taken together" };
  return { found: true, ...spreads, ...summaryOf(cells, graph, mode, spreads) };
}

/** Rows from which spreads are known well enough. */
const MOST_ROWS = 10_000;

/** Every so many connected parts where there are more rows than that in all; everything where they hang together in few parts. */
function sampledRows(cells: Cells, { cells: rows, first, component }: CrossedGraph): Cells {
  const stride = Math.ceil(rows.length / MOST_ROWS);
  const kept = rows.filter((_, at) => component[first[at]!]! % stride === 0);
  if (stride === 1 || kept.length < MOST_ROWS / 2) return cells;
  return {
    ...cells,
    unit: Int32Array.from(kept, (row) => cells.unit[row]!),
    position: Int32Array.from(kept, (row) => cells.position[row]!),
    events: Float64Array.from(kept, (row) => cells.events[row]!),
    expected: Float64Array.from(kept, (row) => cells.expected[row]!),
  };
}

/** Null where the graph is too dense to be gone through so often. */
function likeliestSpreads(cells: Cells, graph: CrossedGraph): CrossedSpreads | null {
  const pattern = sparsePattern(graph.neighbours, MOST_WORK);
  if (pattern === null) return null;
  let last: Pick<CrossedMode, "level" | "effect"> = { level: 0, effect: new Float64Array(graph.points) };
  const { at } = quasiNewton(
    (at) => {
      const mode = crossedMode(cells, graph, pattern, spreadsAt(at), last);
      if (mode === null) return -Number.MAX_VALUE;
      last = mode;
      return mode.marginal;
    },
    [0, 0],
  );
  return spreadsAt(at);
}

/** Multiplications of one factor that can be waited for some hundred times. */
const MOST_WORK = 3e7;
const LEAST_SD = 0.01;
const MOST_SD = 4;

/** Spreads at a point of the search: logits of where their logs lie within the bounds; 0 is a spread of 0.2. */
function spreadsAt([unit = 0, position = 0]: number[]): CrossedSpreads {
  const sdAt = (x: number) => LEAST_SD * (MOST_SD / LEAST_SD) ** (1 / (1 + Math.exp(-x)));
  return { unitSd: sdAt(unit), positionSd: sdAt(position) };
}

function refusalOf({ events }: Cells, { cells, unitPoints, points }: CrossedGraph): string | null {
  if (cells.length === 0) return "no events were expected anywhere";
  if (cells.every((cell) => events[cell] === 0)) return "there are no events";
  if (unitPoints < 2) return "only one unit ran";
  return points - unitPoints < 2 ? "units ran at one position only" : null;
}

function summaryOf(
  cells: Cells,
  graph: CrossedGraph,
  { level, effect, factor, marginal }: CrossedMode,
  spreads: CrossedSpreads,
) {
  const inverse = sparseInverse(factor, graph);
  const kind = (points: Int32Array, sd: number): Effects => ({
    mean: Float64Array.from(points, (point) => (point < 0 ? 0 : effect[point]!)),
    sd: Float64Array.from(points, (point) => (point < 0 ? sd : Math.sqrt(inverse.diagonal[point]!))),
    component: points.map((point) => (point < 0 ? -1 : graph.component[point]!)),
  });
  const correlation = new Float64Array(cells.unit.length);
  for (let at = 0; at < graph.cells.length; at++) {
    const product = inverse.diagonal[graph.first[at]!]! * inverse.diagonal[graph.second[at]!]!;
    correlation[graph.cells[at]!] = inverse.value[at]! / Math.sqrt(product);
  }
  return {
    level,
    logLikelihood: marginal,
    unit: kind(graph.unitPoint, spreads.unitSd),
    position: kind(graph.positionPoint, spreads.positionSd),
    correlation,
  };
}

import { type Cells, checkCells } from "./cells.ts";
import { type CrossedGraph, crossedGraph } from "./crossed-graph.ts";
import { type CrossedMode, crossedMode } from "./crossed-mode.ts";
import { crossedSlope, type SpreadSlopes } from "./crossed-slope.ts";
import { effectSdAt, logSdSlopeAt } from "./normal-spread.ts";
import { quasiNewton } from "./quasi-newton.ts";
import { sparseInverse } from "./sparse-inverse.ts";
import { type SparsePattern, sparsePattern } from "./sparse-pattern.ts";

/** Effects of one kind, on the log of the ratio of events to expected. A value per unit, or per position. */
export type Effects = {
  /** Most likely value given all counts: 0 is ordinary. */
  mean: Float64Array;
  /** Standard deviation given all counts. */
  sd: Float64Array;
  /** Number of the connected part of the graph of units and positions, the same for both kinds; -1: nothing was expected of it. */
  component: Int32Array;
};

/** What is the same for all units, and for all positions. */
export type CrossedLevel = CrossedSpreads & { level: number };

/** Standard deviations of the two kinds of effect. */
export type CrossedSpreads = { unitSd: number; positionSd: number };

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
 * likelihood, the effects integrated out by Laplace's approximation. Matrices are sparse, so that thousands of units and positions will
 * do, unless nearly all of them are joined through many moves: `crossedEffectsAt` is for those.
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
  const pattern = sparsePattern(graph.neighbours, MOST_WORK);
  if (pattern === null) return { found: false, reason: TOO_DENSE };
  const spreads = likeliestSpreads(cells, graph, pattern);
  return summaryOf(
    cells,
    graph,
    spreads,
    crossedMode(cells, graph, pattern, { sd: sdsOf(graph, spreads) }, startOf(graph)),
  );
}

/**
 * The effects at given level and spreads, for a pair that was picked for what happened to it: its unit and its position are each given
 * a spread of 1 at least, since one of them is out of the common and by how much is what is asked.
 * @param row - of the pair
 */
export function fitPickedEffects(cells: Cells, known: CrossedLevel, row: number): CrossedEffects {
  const graph = crossedGraph(cells);
  const pattern = sparsePattern(graph.neighbours, MOST_WORK);
  if (pattern === null) return { found: false, reason: TOO_DENSE };
  const sd = sdsOf(graph, known);
  for (const point of [graph.unitPoint[cells.unit[row]!]!, graph.positionPoint[cells.position[row]!]!]) {
    if (point >= 0) sd[point] = Math.max(sd[point]!, PICKED_SD);
  }
  return summaryOf(cells, graph, known, crossedMode(cells, graph, pattern, { sd, level: known.level }, startOf(graph)));
}

/** Ratios of 1/2.7 to 2.7 are within one standard deviation. */
const PICKED_SD = 1;

/** Why nothing is found where too much hangs together. */
export const TOO_DENSE = "too many units and positions hang together through too many moves";

function likeliestSpreads(cells: Cells, graph: CrossedGraph, pattern: SparsePattern): CrossedSpreads {
  let last: Pick<CrossedMode, "level" | "effect"> = startOf(graph);
  const { at } = quasiNewton((at) => {
    const sd = sdsOf(graph, spreadsAt(at));
    const mode = crossedMode(cells, graph, pattern, { sd }, last);
    if (mode === null) return { value: -Number.MAX_VALUE, slope: () => [0, 0] };
    last = mode;
    return { value: mode.marginal, slope: () => slopeAlong(at, crossedSlope(graph, sd, mode)) };
  }, START);
  return spreadsAt(at);
}

/** Spreads of 0.2. */
const START = [0, 0];

function slopeAlong([unit = 0, position = 0]: number[], by: SpreadSlopes): number[] {
  return [by.unit * logSdSlopeAt(unit), by.position * logSdSlopeAt(position)];
}

/** Multiplications of one factor that can be waited for some hundred times. */
const MOST_WORK = 3e7;

function startOf({ points }: CrossedGraph): Pick<CrossedMode, "level" | "effect"> {
  return { level: 0, effect: new Float64Array(points) };
}

function sdsOf({ points, unitPoints }: CrossedGraph, { unitSd, positionSd }: CrossedSpreads): Float64Array {
  return new Float64Array(points).fill(unitSd, 0, unitPoints).fill(positionSd, unitPoints);
}

/** Spreads at a point of the search. */
function spreadsAt([unit = 0, position = 0]: number[]): CrossedSpreads {
  return { unitSd: effectSdAt(unit), positionSd: effectSdAt(position) };
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
  { unitSd, positionSd }: CrossedSpreads,
  mode: CrossedMode | null,
): CrossedEffects {
  if (mode === null) return { found: false, reason: "the counts are too far apart to be taken together" };
  const { level, effect, factor, marginal } = mode;
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
    found: true,
    level,
    unitSd,
    positionSd,
    logLikelihood: marginal,
    unit: kind(graph.unitPoint, unitSd),
    position: kind(graph.positionPoint, positionSd),
    correlation,
  };
}

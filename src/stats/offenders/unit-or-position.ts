import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { logNormalTail } from "../distribution/normal-tail.ts";
import type { Cells } from "./cells.ts";
import type { FoundCrossedEffects } from "./crossed-effects.ts";

/** What is to blame: the place, the frame, both, neither; or that it can't be told. */
export type Blame = "place" | "frame" | "both" | "neither" | "untold";

/** A ratio of rates to the ordinary one, with the limits between which it lies at 95 %, and the probability that it is above 1. */
export type EffectRatio = { ratio: number; low: number; high: number; probabilityAbove: number };

/** Whether it is the unit or the position that brings a unit back from there. */
export type UnitOrPosition = {
  verdict: Blame;
  /** Moves that it rests on: other positions at which the unit ran, and other units that ran at the position. */
  moves: number;
  /** Posterior correlation of the two effects. */
  correlation: number;
  /** What the unit does, wherever it runs. */
  frame: EffectRatio;
  /** What the position does, whatever runs there. */
  place: EffectRatio;
};

/**
 * Unit or position, for a pair that ran together. Nothing is said without moves, or where the two effects hang together so much that
 * only their sum is known (correlation of -0.9 or below); else each is to blame where its effect is above 0 with probability 0.95 and
 * either the other's is not or it is larger than the other's with probability 0.95.
 * @param cells - as they were fitted
 * @param effects - as `fitCrossedEffects` finds them
 * @param cell - number of the row of the pair
 * @returns the verdict, what it rests on, and both ratios
 * @throws RangeError for a row that is not there
 * @see N. E. Breslow & D. G. Clayton, J. Amer. Statist. Assoc. 88 (1993) 9-25, for the posterior
 * @example
 * const cells = {
 *   unit: Int32Array.of(0, 0, 1, 1),
 *   position: Int32Array.of(0, 1, 0, 1),
 *   events: Float64Array.of(12, 2, 14, 3),
 *   expected: Float64Array.of(4, 3, 4, 4),
 *   units: 2,
 *   positions: 2,
 * };
 * const effects = fitCrossedEffects(cells);
 * if (effects.found) unitOrPosition(cells, effects, 0);
 */
export function unitOrPosition(cells: Cells, effects: FoundCrossedEffects, cell: number): UnitOrPosition {
  const [unit, position] = [cells.unit[cell], cells.position[cell]];
  if (unit === undefined || position === undefined) {
    throw new RangeError(`Cannot tell the unit from the position: there is no row ${cell}`);
  }
  const frame = { mean: effects.unit.mean[unit]!, sd: effects.unit.sd[unit]! };
  const place = { mean: effects.position.mean[position]!, sd: effects.position.sd[position]! };
  const correlation = effects.correlation[cell]!;
  const moves = movesOf(cells, unit, position);
  const told = moves > 0 && correlation > LOWEST_CORRELATION && cells.expected[cell]! > 0;
  return {
    verdict: told ? blameOf(frame, place, correlation) : "untold",
    moves,
    correlation,
    frame: ratioOf(frame),
    place: ratioOf(place),
  };
}

const LOWEST_CORRELATION = -0.9;
const SURE = 0.95;

type Effect = { mean: number; sd: number };

function blameOf(frame: Effect, place: Effect, correlation: number): Blame {
  const isFrame = aboveZero(frame) >= SURE;
  const isPlace = aboveZero(place) >= SURE;
  if (!(isFrame || isPlace)) return "neither";
  const variance = frame.sd ** 2 + place.sd ** 2 - 2 * correlation * frame.sd * place.sd;
  const placeWorse = aboveZero({ mean: place.mean - frame.mean, sd: Math.sqrt(variance) });
  if (isPlace && (!isFrame || placeWorse >= SURE)) return "place";
  return isFrame && (!isPlace || placeWorse <= 1 - SURE) ? "frame" : "both";
}

function aboveZero({ mean, sd }: Effect): number {
  return Math.exp(logNormalTail(mean / sd));
}

function ratioOf({ mean, sd }: Effect): EffectRatio {
  const reach = normalQuantile(0.975, 0, 1) * sd;
  const [low, high] = [Math.exp(mean - reach), Math.exp(mean + reach)];
  return { ratio: Math.exp(mean), low, high, probabilityAbove: aboveZero({ mean, sd }) };
}

function movesOf({ unit, position, expected }: Cells, ownUnit: number, ownPosition: number): number {
  let moves = 0;
  for (let cell = 0; cell < unit.length; cell++) {
    if (expected[cell]! > 0 && (unit[cell] === ownUnit) !== (position[cell] === ownPosition)) moves++;
  }
  return moves;
}

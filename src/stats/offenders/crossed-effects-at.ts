import { type Cells, checkCells, tellingCells } from "./cells.ts";
import {
  type CrossedLevel,
  type FoundCrossedEffects,
  fitCrossedEffects,
  fitPickedEffects,
  TOO_DENSE,
} from "./crossed-effects.ts";
import { rowsAlone, rowsAround, rowsByOwner } from "./near-rows.ts";
import { fitNormalSpread } from "./normal-spread.ts";
import { type PlaceAdjusted, placeAdjusted } from "./place-adjusted.ts";

/** Effects at a row that was asked for: of the rows that they were fitted to, which it is. */
export type EffectsAt = { cells: Cells; effects: FoundCrossedEffects; cell: number };

/** Effects at each row that was asked for, in that order, or why there are none. */
export type CrossedEffectsAt = { found: true; at: EffectsAt[] } | { found: false; reason: string };

/** Rows that are fitted all at once, to find level and spreads. */
const MOST_AT_ONCE = 2000;
/** Rows around each row that was asked for. */
const ENOUGH_AROUND = 500;

/**
 * Effects of units and positions at rows that were picked for what happened there. Level and spreads are those of greatest likelihood
 * up to 2,000 rows; with more, or where too many hang together, they are from the totals of units and of positions, each with what the
 * other kind does put into what was expected. Given those, the effects at a row are from some 500 rows around it, which are all those
 * of its own unit and position and those that these lead to: what lies further off says little, and to leave it out only widens what is
 * said. Its unit and its position have a spread of 1 at least, so that a rare offender isn't drawn to what all others are.
 * @param cells - events and expected events of each unit at each position where it ran
 * @param rows - numbers of the rows that are asked for
 * @param adjusted - what `placeAdjusted` says of the cells, where that is known already
 * @returns for each of them effects as `unitOrPosition` takes them, or why there are none
 * @throws RangeError for columns that are not such counts
 * @see N. E. Breslow & D. G. Clayton, J. Amer. Statist. Assoc. 88 (1993) 9-25; the rows around and the spread of those picked are our own choice, no source
 * @example
 * const cells = {
 *   unit: Int32Array.of(0, 0, 1, 1),
 *   position: Int32Array.of(0, 1, 0, 1),
 *   events: Float64Array.of(12, 2, 14, 3),
 *   expected: Float64Array.of(4, 3, 4, 4),
 *   units: 2,
 *   positions: 2,
 * };
 * const found = crossedEffectsAt(cells, [2]);
 * if (found.found) found.at.map(({ cells, effects, cell }) => unitOrPosition(cells, effects, cell));
 */
export function crossedEffectsAt(cells: Cells, rows: readonly number[], adjusted?: PlaceAdjusted): CrossedEffectsAt {
  checkCells(cells);
  const known = levelOf(cells, adjusted);
  if (!known.found) return known;
  const owned = rowsByOwner(cells);
  const at: EffectsAt[] = [];
  for (const row of rows) {
    const near = rowsAround(cells, owned, row, ENOUGH_AROUND);
    const alone = rowsAlone(cells, near);
    const cell = near.indexOf(row);
    const effects = fitPickedEffects(alone, known, cell);
    if (!effects.found) return effects;
    at.push({ cells: alone, effects, cell });
  }
  return { found: true, at };
}

/** Level and spreads by the whole fit, or by the totals where that would take too long. */
function levelOf(
  cells: Cells,
  adjusted?: PlaceAdjusted,
): ({ found: true } & CrossedLevel) | { found: false; reason: string } {
  if (tellingCells(cells).length > MOST_AT_ONCE)
    return { found: true, ...levelByTotals(cells, adjusted ?? placeAdjusted(cells)) };
  const whole = fitCrossedEffects(cells);
  return !whole.found && whole.reason === TOO_DENSE
    ? { found: true, ...levelByTotals(cells, adjusted ?? placeAdjusted(cells)) }
    : whole;
}

/**
 * Level and spreads from the totals of each unit, with what its positions do put into what was expected of it, and of each position
 * likewise.
 */
function levelByTotals(cells: Cells, { unitExpected, positionExpected }: PlaceAdjusted): CrossedLevel {
  const unit = fitNormalSpread({ events: totals(cells, cells.unit, cells.units), exposure: unitExpected });
  const position = fitNormalSpread({
    events: totals(cells, cells.position, cells.positions),
    exposure: positionExpected,
  });
  return { level: unit.level, unitSd: unit.sd, positionSd: position.sd };
}

function totals({ events, expected }: Cells, owner: Int32Array, owners: number): Float64Array {
  const total = new Float64Array(owners);
  for (let cell = 0; cell < owner.length; cell++) if (expected[cell]! > 0) total[owner[cell]!]! += events[cell]!;
  return total;
}

import { type Cells, checkCells } from "./cells.ts";
import type { Counts } from "./counts.ts";
import { meanRatios } from "./two-group-ratios.ts";
import { fitTwoGroups } from "./two-groups.ts";

/** Events to expect of each unit, given the places where it ran, and of each position, given the frames that ran there. */
export type PlaceAdjusted = { unitExpected: Float64Array; positionExpected: Float64Array };

/**
 * Expected events of each unit with what its positions do put in, and of each position with what its units do: each row's expected
 * events times the ratio of its other side, drawn towards 1 as `twoGroupRatios` does, from that side's rows less the row itself. So a frame isn't held
 * to be bad for the place where it ran, unless nothing else ran there to show it. Ratios are of the ordinary mean, so that without bad
 * places or frames expected events stay nearly what they were.
 * @param cells - events and expected events of each unit at each position where it ran
 * @returns expected events of each unit and of each position
 * @throws RangeError for columns that are not such counts
 * @see C. N. Morris, J. Amer. Statist. Assoc. 78 (1983) 47-65, for shrinkage; leaving out the row itself is our own choice, no source
 * @example
 * placeAdjusted({
 *   unit: Int32Array.of(0, 0, 1, 1),
 *   position: Int32Array.of(0, 1, 0, 1),
 *   events: Float64Array.of(12, 2, 14, 3),
 *   expected: Float64Array.of(4, 3, 4, 4),
 *   units: 2,
 *   positions: 2,
 * });
 */
export function placeAdjusted(cells: Cells): PlaceAdjusted {
  checkCells(cells);
  const { unit, position, units, positions } = cells;
  return {
    unitExpected: adjusted(cells, unit, units, position, positions),
    positionExpected: adjusted(cells, position, positions, unit, units),
  };
}

/** Sums over each `own` of expected events times the ratio of the other side without that row. */
function adjusted(
  { events, expected }: Cells,
  own: Int32Array,
  size: number,
  other: Int32Array,
  others: number,
): Float64Array {
  const sums: Counts = { events: new Float64Array(others), exposure: new Float64Array(others) };
  for (let cell = 0; cell < own.length; cell++) {
    if (expected[cell] === 0) continue;
    sums.events[other[cell]!]! += events[cell]!;
    sums.exposure[other[cell]!]! += expected[cell]!;
  }
  const fit = fitTwoGroups(sums);
  const total = new Float64Array(size);
  if (!fit.found || fit.gain < CLEAR) {
    for (let cell = 0; cell < own.length; cell++) total[own[cell]!]! += expected[cell]!;
    return total;
  }
  const without: Counts = {
    events: events.map((number, cell) => (expected[cell] === 0 ? 0 : sums.events[other[cell]!]! - number)),
    exposure: expected.map((number, cell) => Math.max(0, sums.exposure[other[cell]!]! - number)),
  };
  const ratio = meanRatios(withoutRounding(without), fit);
  for (let cell = 0; cell < own.length; cell++) total[own[cell]!]! += expected[cell]! * ratio[cell]!;
  return total;
}

/** Twice the log-likelihood gain from which there are said to be bad ones on the other side. */
const CLEAR = 6;

/** What is left of an expectation once its only part is taken out is rounding. */
function withoutRounding({ events, exposure }: Counts): Counts {
  return { events, exposure: exposure.map((left) => (left < 1e-9 ? 0 : left)) };
}

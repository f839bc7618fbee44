import { type Cells, tellingCells } from "./cells.ts";

/** Rows in which something was expected, of each unit from the first on and then of each position. */
export function rowsByOwner(cells: Cells): Uint32Array[] {
  const telling = tellingCells(cells);
  return [...gathered(telling, cells.unit, cells.units), ...gathered(telling, cells.position, cells.positions)];
}

function gathered(rows: Uint32Array, owner: Int32Array, owners: number): Uint32Array[] {
  const end = new Uint32Array(owners);
  for (const row of rows) end[owner[row]!]!++;
  let sum = 0;
  for (let one = 0; one < owners; one++) {
    sum += end[one]!;
    end[one] = sum;
  }
  const sorted = new Uint32Array(rows.length);
  const next = end.slice();
  for (let at = rows.length - 1; at >= 0; at--) sorted[--next[owner[rows[at]!]!]!] = rows[at]!;
  return Array.from(next, (from, one) => sorted.subarray(from, end[one]));
}

/** Rows of one unit or position that are followed on the way to others; what they say of a further one is little by then. */
const MOST_OF_ONE = 30;

/**
 * Rows around a row: all those of its unit and its position, then those of the positions and units met there, and so on outwards until
 * there are enough. Which are taken rests on who ran where, never on what happened.
 * @param cells - that the rows are of
 * @param owned - `rowsByOwner` of them
 * @param row - to start from
 * @param enough - rows after which no more are taken, but for those of the first unit and position
 * @returns numbers of the rows, ascending
 */
export function rowsAround(cells: Cells, owned: Uint32Array[], row: number, enough: number): Uint32Array {
  const { unit, position, units } = cells;
  const ownersOf = (one: number) => [unit[one]!, units + position[one]!];
  const taken = new Set([row]);
  const met = new Set(ownersOf(row));
  let turn = 0;
  for (const owner of met) {
    const nearest = turn++ < 2;
    if (!nearest && taken.size >= enough) break;
    const rows = owned[owner]!;
    const stride = nearest ? 1 : Math.ceil(rows.length / MOST_OF_ONE);
    for (let at = 0; at < rows.length; at += stride) {
      taken.add(rows[at]!);
      for (const next of ownersOf(rows[at]!)) met.add(next);
    }
  }
  return Uint32Array.from(taken).sort();
}

/** Those rows alone, units and positions numbered anew in the order of their first row. */
export function rowsAlone(cells: Cells, rows: Uint32Array): Cells {
  const unit = renumbered(rows, cells.unit);
  const position = renumbered(rows, cells.position);
  return {
    unit: unit.numbers,
    position: position.numbers,
    events: Float64Array.from(rows, (row) => cells.events[row]!),
    expected: Float64Array.from(rows, (row) => cells.expected[row]!),
    units: unit.size,
    positions: position.size,
  };
}

function renumbered(rows: Uint32Array, owner: Int32Array): { numbers: Int32Array; size: number } {
  const numberOf = new Map<number, number>();
  const numbers = Int32Array.from(rows, (row) => {
    const known = numberOf.get(owner[row]!) ?? numberOf.size;
    numberOf.set(owner[row]!, known);
    return known;
  });
  return { numbers, size: numberOf.size };
}

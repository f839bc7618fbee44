import type { PointRows } from "./life-rows.ts";
import type { StandardColumn } from "./standard-columns.ts";

/** A part of a column: a free column, or 1 where `of` is 0 (the first free column is 1), times `base`, and `jump` more in some cells. */
export type CellPart = { of: number; base: number; jump: number; cells: Int32Array };

/**
 * Terms of a likelihood put together in cells, within which all columns of two values (a level or not) are alike: each column is there a
 * multiple of a free column and a constant, so that sums over terms need go through the free columns alone.
 */
export type LevelCells = {
  /** First term of each cell, and after the last cell how many terms there are. */
  start: Int32Array;
  /** The terms cell by cell, with the free columns. */
  terms: PointRows;
  /** Of 1 and each column of the regression, of what it is made. */
  parts: CellPart[][];
};

/** Fewer terms a cell are gone through as quickly by themselves. */
const LEAST_TERMS = 12;

/** Fewer columns of two values take less than putting the terms in the order of cells does. */
const LEAST_LEVELS = 3;

/**
 * @param rows - with their standard columns
 * @param standard - the columns as they were
 * @returns null where few columns have two values, or so many have that cells would hold few terms
 */
export function levelCells(rows: PointRows, standard: readonly StandardColumn[]): LevelCells | null {
  const told = rows.columns.map(isOfTwo);
  if (told.filter((two) => two).length < LEAST_LEVELS) return null;
  const { cell, cells } = cellOfTerms(
    rows.columns.filter((_, one) => told[one]),
    rows.log.length,
  );
  if (cells < 2 || cells * LEAST_TERMS > rows.log.length) return null;
  const { order, start } = orderByCell(cell, cells);
  const free: Free[] = [];
  const parts: CellPart[][] = [[wholePart(0)]];
  for (const [one, column] of rows.columns.entries()) {
    const own = standard[one]!;
    const raw = (term: number) => own.values[rows.row?.[term] ?? term]!;
    const product = told[one] ? null : productWith(free, raw, cell, cells);
    if (told[one]) {
      parts.push([levelPart(Float64Array.from({ length: cells }, (_, at) => column[order[start[at]!]!]!))]);
    } else if (product !== null) {
      parts.push(productParts(product, own));
    } else {
      free.push({ own, raw, column });
      parts.push([wholePart(free.length)]);
    }
  }
  const inOrder = (values: Float64Array) => inOrderOf(order, values, new Float64Array(order.length));
  const terms: PointRows = {
    log: inOrder(rows.log),
    failed: inOrderOf(order, rows.failed, new Uint8Array(order.length)),
    weight: rows.weight === null ? null : inOrder(rows.weight),
    columns: free.map(({ column }) => inOrder(column)),
    row: null,
  };
  return { start, terms, parts };
}

function inOrderOf<Column extends Float64Array | Uint8Array>(order: Int32Array, values: Column, out: Column): Column {
  for (let at = 0; at < order.length; at++) out[at] = values[order[at]!]!;
  return out;
}

type Free = { own: StandardColumn; raw: (term: number) => number; column: Float64Array };

/** A free column as it is. */
export function wholePart(of: number): CellPart {
  return { of, base: 1, jump: 0, cells: new Int32Array(0) };
}

/** A column of two values by cell, of which the more common is the base. */
function levelPart(values: Float64Array): CellPart {
  const first = values[0]!;
  const others = Int32Array.from(values.keys()).filter((at) => values[at] !== first);
  if (2 * others.length <= values.length) {
    return { of: 0, base: first, jump: others.length === 0 ? 0 : values[others[0]!]! - first, cells: others };
  }
  const base = values[others[0]!]!;
  return {
    of: 0,
    base,
    jump: first - base,
    cells: Int32Array.from(values.keys()).filter((at) => values[at] === first),
  };
}

function isOfTwo(column: Float64Array): boolean {
  const first = column[0];
  let other = first;
  for (let term = 0; term < column.length; term++) {
    if (column[term] === first || column[term] === other) continue;
    if (other !== first) return false;
    other = column[term];
  }
  return true;
}

/** Numbers terms by their values in columns of two values. */
function cellOfTerms(columns: readonly Float64Array[], terms: number): { cell: Int32Array; cells: number } {
  const cell = new Int32Array(terms);
  let cells = Math.min(1, terms);
  for (const column of columns) {
    const numbers = new Int32Array(2 * cells).fill(-1);
    cells = 0;
    for (let term = 0; term < terms; term++) {
      const key = 2 * cell[term]! + (column[term] === column[0] ? 0 : 1);
      if (numbers[key]! < 0) numbers[key] = cells++;
      cell[term] = numbers[key]!;
    }
  }
  return { cell, cells };
}

function orderByCell(cell: Int32Array, cells: number): { order: Int32Array; start: Int32Array } {
  const start = new Int32Array(cells + 1);
  for (let term = 0; term < cell.length; term++) start[cell[term]! + 1]!++;
  for (let at = 0; at < cells; at++) start[at + 1]! += start[at]!;
  const next = start.slice();
  const order = new Int32Array(cell.length);
  for (let term = 0; term < cell.length; term++) order[next[cell[term]!]!++] = term;
  return { order, start };
}

/** A free column that another is, in the cells that it `has`, and 0 in all others: the product of it with a level. */
type Product = { of: number; free: Free; has: Int32Array };

function productWith(
  free: readonly Free[],
  raw: (term: number) => number,
  cell: Int32Array,
  cells: number,
): Product | null {
  for (const [at, one] of free.entries()) {
    const has = cellsAlike(one.raw, raw, cell, cells);
    if (has !== null) return { of: at + 1, free: one, has };
  }
  return null;
}

function cellsAlike(
  one: (term: number) => number,
  other: (term: number) => number,
  cell: Int32Array,
  cells: number,
): Int32Array | null {
  const same = new Uint8Array(cells).fill(1);
  const none = new Uint8Array(cells).fill(1);
  for (let term = 0; term < cell.length; term++) {
    const value = other(term);
    const at = cell[term]!;
    if (value !== 0) none[at] = 0;
    if (value !== one(term)) same[at] = 0;
    if (none[at] === 0 && same[at] === 0) return null;
  }
  return Int32Array.from(none.keys()).filter((at) => none[at] === 0);
}

/** The product as a standard column, of the standard column that it is made of. */
function productParts({ of, free, has }: Product, { middle, reach }: StandardColumn): CellPart[] {
  return [
    { of: 0, base: -middle / reach, jump: free.own.middle / reach, cells: has },
    { of, base: 0, jump: free.own.reach / reach, cells: has },
  ];
}

import { type Neighbours, sparseOrder } from "./sparse-order.ts";

/** Where a factor has entries, in an order of elimination: found once for all matrices of a pattern. */
export type SparsePattern = {
  /** Place of each row in the order of elimination. */
  place: Int32Array;
  /** First entry of each column of the factor, below its diagonal; one more at the end. */
  start: Float64Array;
  /** Row of each entry, ascending in a column. */
  row: Int32Array;
};

/** Pattern of the factor of a symmetric matrix; null where it would take over `mostWork` multiplications. */
export function sparsePattern(neighbours: Neighbours, mostWork: number): SparsePattern | null {
  const order = sparseOrder(neighbours);
  const place = new Int32Array(order.length);
  for (let at = 0; at < order.length; at++) place[order[at]!] = at;
  const columns = factorColumns(neighbours, order, place, mostWork);
  if (columns === null) return null;
  const start = new Float64Array(order.length + 1);
  for (const [column, { length }] of columns.entries()) start[column + 1] = start[column]! + length;
  const row = new Int32Array(start[order.length]!);
  for (const [column, rows] of columns.entries()) row.set(rows, start[column]!);
  return { place, start, row };
}

/** Rows of each column: the matrix's own, and those of the columns of which it is the first row. */
function factorColumns(
  neighbours: Neighbours,
  order: Int32Array,
  place: Int32Array,
  mostWork: number,
): Int32Array[] | null {
  const columns: Int32Array[] = [];
  const children: number[][] = Array.from(order, () => []);
  let work = 0;
  for (const [column, own] of order.entries()) {
    const later = neighbours[own]!.map((row) => place[row]!).filter((row) => row > column);
    const sorted = Int32Array.from(
      union([later, ...children[column]!.map((child) => columns[child]!.subarray(1))]),
    ).sort();
    columns.push(sorted);
    if (sorted.length > 0) children[sorted[0]!]!.push(column);
    work += sorted.length ** 2;
    if (work > mostWork) return null;
  }
  return columns;
}

function union(lists: Int32Array[]): Set<number> {
  const numbers = new Set<number>();
  for (const list of lists) for (const number of list) numbers.add(number);
  return numbers;
}

/** Place of an entry of the factor, which has it. */
export function entryAt({ start, row }: SparsePattern, column: number, wanted: number): number {
  let [low, high] = [start[column]!, start[column + 1]! - 1];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (row[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}

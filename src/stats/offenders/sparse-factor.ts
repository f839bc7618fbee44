import { entryAt, type SparsePattern } from "./sparse-pattern.ts";

/** A symmetric positive matrix in the rows' own order: its diagonal, and its entries below it by pair of rows. */
export type SparseMatrix = { diagonal: Float64Array; first: Int32Array; second: Int32Array; value: Float64Array };

/** L D L' of a matrix, in the order of elimination. */
export type SparseFactor = { pattern: SparsePattern; lower: Float64Array; pivot: Float64Array };

/** Factor of a positive matrix, each column from those before it that have an entry in its row. Null where a pivot is not above 0. */
export function sparseFactor(pattern: SparsePattern, matrix: SparseMatrix): SparseFactor | null {
  const { start, row } = pattern;
  const { lower, pivot } = inOrder(pattern, matrix);
  const size = pivot.length;
  // columns whose next entry is in a row, as a list a row; and the place of that entry
  const firstOf = new Int32Array(size).fill(-1);
  const nextOf = new Int32Array(size).fill(-1);
  const entryOf = new Float64Array(size);
  const wait = (column: number, entry: number) => {
    if (entry >= start[column + 1]!) return;
    entryOf[column] = entry;
    nextOf[column] = firstOf[row[entry]!]!;
    firstOf[row[entry]!] = column;
  };
  const sum = new Float64Array(size);
  for (let column = 0; column < size; column++) {
    const [from, to] = [start[column]!, start[column + 1]!];
    for (let i = from; i < to; i++) sum[row[i]!] = lower[i]!;
    for (let before = firstOf[column]!, next = -1; before !== -1; before = next) {
      next = nextOf[before]!;
      const entry = entryOf[before]!;
      const factor = lower[entry]! * pivot[before]!;
      pivot[column]! -= lower[entry]! * factor;
      for (let i = entry + 1; i < start[before + 1]!; i++) sum[row[i]!]! -= lower[i]! * factor;
      wait(before, entry + 1);
    }
    if (!(pivot[column]! > 0)) return null;
    for (let i = from; i < to; i++) lower[i] = sum[row[i]!]! / pivot[column]!;
    wait(column, from);
  }
  return { pattern, lower, pivot };
}

/** The matrix's entries where the factor has them. */
function inOrder(pattern: SparsePattern, matrix: SparseMatrix): { lower: Float64Array; pivot: Float64Array } {
  const { place, row } = pattern;
  const lower = new Float64Array(row.length);
  const pivot = new Float64Array(place.length);
  for (const [one, at] of place.entries()) pivot[at] = matrix.diagonal[one]!;
  for (let pair = 0; pair < matrix.value.length; pair++) {
    const [a, b] = [place[matrix.first[pair]!]!, place[matrix.second[pair]!]!];
    lower[entryAt(pattern, Math.min(a, b), Math.max(a, b))]! += matrix.value[pair]!;
  }
  return { lower, pivot };
}

/** Solves for a right-hand side, in the rows' own order. */
export function sparseSolve(
  { pattern: { place, start, row }, lower, pivot }: SparseFactor,
  side: Float64Array,
): Float64Array {
  const size = place.length;
  const x = new Float64Array(size);
  for (let one = 0; one < size; one++) x[place[one]!] = side[one]!;
  for (let column = 0; column < size; column++) {
    for (let i = start[column]!; i < start[column + 1]!; i++) x[row[i]!]! -= lower[i]! * x[column]!;
  }
  for (let column = size - 1; column >= 0; column--) {
    x[column]! /= pivot[column]!;
    for (let i = start[column]!; i < start[column + 1]!; i++) x[column]! -= lower[i]! * x[row[i]!]!;
  }
  return Float64Array.from(place, (at) => x[at]!);
}

/** log of the determinant. */
export function sparseLogDeterminant({ pivot }: SparseFactor): number {
  let sum = 0;
  for (const value of pivot) sum += Math.log(value);
  return sum;
}

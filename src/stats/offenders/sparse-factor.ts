import { entryAt, type SparsePattern } from "./sparse-pattern.ts";

/** A symmetric positive matrix in the rows' own order: its diagonal, and its entries below it by pair of rows. */
export type SparseMatrix = { diagonal: Float64Array; first: Int32Array; second: Int32Array; value: Float64Array };

/** L D L' of a matrix, in the order of elimination. */
export type SparseFactor = { pattern: SparsePattern; lower: Float64Array; pivot: Float64Array };

/** Factor of a positive matrix, column by column: each column is taken from those after it. Null where a pivot is not above 0. */
// biome-ignore lint/complexity/noExcessiveCognitiveComplexity: a kernel whose loops share their places in the columns
export function sparseFactor(pattern: SparsePattern, matrix: SparseMatrix): SparseFactor | null {
  const { place, start, row } = pattern;
  const size = place.length;
  const pivot = new Float64Array(size);
  const lower = new Float64Array(row.length);
  for (let one = 0; one < size; one++) pivot[place[one]!] = matrix.diagonal[one]!;
  for (let at = 0; at < matrix.value.length; at++) {
    const [a, b] = [place[matrix.first[at]!]!, place[matrix.second[at]!]!];
    lower[entryAt(pattern, Math.min(a, b), Math.max(a, b))]! += matrix.value[at]!;
  }
  const at = new Float64Array(size);
  for (let column = 0; column < size; column++) {
    const [from, to] = [start[column]!, start[column + 1]!];
    const own = pivot[column]!;
    if (!(own > 0)) return null;
    for (let i = from; i < to; i++) {
      const target = row[i]!;
      const share = lower[i]! / own;
      pivot[target]! -= share * lower[i]!;
      // entries of the target column, found by walking both columns, which ascend
      let entry = start[target]!;
      for (let j = i + 1; j < to; j++) {
        while (row[entry]! < row[j]!) entry++;
        lower[entry]! -= share * lower[j]!;
      }
      at[target] = share;
    }
    for (let i = from; i < to; i++) lower[i] = at[row[i]!]!;
  }
  return { pattern, lower, pivot };
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

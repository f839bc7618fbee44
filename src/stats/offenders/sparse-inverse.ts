import type { SparseFactor, SparseMatrix } from "./sparse-factor.ts";
import { entryAt } from "./sparse-pattern.ts";

/**
 * The inverse where the matrix has entries: its diagonal, and by pair of rows.
 * @see K. Takahashi, J. Fagan & M.-S. Chin, 8th PICA Conference, 1973; Y. E. Campbell & T. A. Davis, University of Florida TR-95-021
 */
// biome-ignore lint/complexity/noExcessiveCognitiveComplexity: a kernel whose loops share their places in the columns
export function sparseInverse(
  factor: SparseFactor,
  pairs: Pick<SparseMatrix, "first" | "second">,
): { diagonal: Float64Array; value: Float64Array } {
  const { pattern, lower, pivot } = factor;
  const { place, start, row } = pattern;
  const diagonal = new Float64Array(place.length);
  const inverse = new Float64Array(lower.length);
  const share = new Float64Array(place.length);
  const sum = new Float64Array(place.length);
  const isOwn = new Uint8Array(place.length);
  for (let column = place.length - 1; column >= 0; column--) {
    const [from, to] = [start[column]!, start[column + 1]!];
    for (let i = from; i < to; i++) {
      share[row[i]!] = lower[i]!;
      sum[row[i]!] = 0;
      isOwn[row[i]!] = 1;
    }
    for (let i = from; i < to; i++) {
      const one = row[i]!;
      sum[one]! += diagonal[one]! * share[one]!;
      for (let j = start[one]!; j < start[one + 1]!; j++) {
        const other = row[j]!;
        if (isOwn[other] === 0) continue;
        sum[one]! += inverse[j]! * share[other]!;
        sum[other]! += inverse[j]! * share[one]!;
      }
    }
    let own = 1 / pivot[column]!;
    for (let i = from; i < to; i++) {
      inverse[i] = -sum[row[i]!]!;
      own -= lower[i]! * inverse[i]!;
      isOwn[row[i]!] = 0;
    }
    diagonal[column] = own;
  }
  const value = Float64Array.from(pairs.first, (first, at) => {
    const [a, b] = [place[first]!, place[pairs.second[at]!]!];
    return inverse[entryAt(pattern, Math.min(a, b), Math.max(a, b))]!;
  });
  return { diagonal: Float64Array.from(place, (at) => diagonal[at]!), value };
}

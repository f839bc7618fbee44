import { checkChances } from "./check-chances.ts";
import { trimmedCounts } from "./trimmed-counts.ts";

/**
 * Chances of the sum of independent counts, by convolution two and two: ten thousand small ones take well under a second.
 * @param counts - the chances of each count, from 0 on; none at all sum to 0
 * @returns the chance of each sum, from 0 on, up to where less than 1e-15 is left
 * @throws RangeError for what are not chances
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 11
 * @example sumOfCounts([Float64Array.of(0.5, 0.5), Float64Array.of(0.5, 0.5)])[1]; // 0.5
 */
export function sumOfCounts(counts: readonly Float64Array[]): Float64Array {
  for (const chances of counts) checkChances(chances);
  return summed(counts);
}

/** The same of counts that are known to be such. */
export function summed(counts: readonly Float64Array[]): Float64Array {
  let left = counts;
  while (left.length > 1) {
    const pairs: Float64Array[] = [];
    for (let at = 0; at < left.length; at += 2) {
      const other = left[at + 1];
      pairs.push(other === undefined ? left[at]! : convolved(left[at]!, other));
    }
    left = pairs;
  }
  return trimmedCounts(left[0] ?? Float64Array.of(1), CUT);
}

/** Cut from either end of each sum on the way: of ten thousand counts, 1e-15 at most in all. */
const CUT = 5e-20;

function convolved(one: Float64Array, other: Float64Array): Float64Array {
  const sum = new Float64Array(one.length + other.length - 1);
  const start = other.findIndex((chance) => chance > 0);
  for (let k = 0; k < one.length; k++) {
    const chance = one[k]!;
    if (chance === 0) continue;
    for (let j = start; j < other.length; j++) sum[k + j]! += chance * other[j]!;
  }
  return trimmedCounts(sum, CUT);
}

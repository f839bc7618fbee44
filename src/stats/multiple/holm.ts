import { checkPValues } from "./check-p-values.ts";

/**
 * Adjusted p-values by which the chance of any false name among those named is held: naming all with an adjusted p of at most a keeps it
 * at a or below, whatever hangs together. The i-th smallest of m becomes max over j <= i of (m - j + 1) p(j), at most 1.
 * @param pValues - 0 to 1, in any order; the family is all of them
 * @returns adjusted values, in the order given
 * @throws RangeError if a value lies outside 0 to 1
 * @see S. Holm 1979, Scand. J. Statist. 6, 65-70
 * @example holm(Float64Array.of(0.01, 0.04, 0.03)); // [0.03, 0.06, 0.06]
 */
export function holm(pValues: Float64Array): Float64Array {
  checkPValues(pValues);
  const rising = Uint32Array.from(pValues.keys()).sort((a, b) => pValues[a]! - pValues[b]!);
  const adjusted = new Float64Array(pValues.length);
  let most = 0;
  for (const [below, test] of rising.entries()) {
    most = Math.max(most, Math.min(1, (pValues.length - below) * pValues[test]!));
    adjusted[test] = most;
  }
  return adjusted;
}

import { checkPValues } from "./check-p-values.ts";

/**
 * Adjusted p-values by which the expected share of false names among those named is held: naming all with an adjusted
 * p of at most q keeps it at q or below, for independent (or positively dependent) tests.
 * The i-th smallest of m becomes min over j >= i of m p(j) / j, at most 1.
 * @param pValues - 0 to 1, in any order; the family is all of them
 * @returns adjusted values, in the order given
 * @throws RangeError if a value lies outside 0 to 1
 * @see Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57, 289
 * @example benjaminiHochberg(Float64Array.of(0.01, 0.04, 0.03)); // [0.03, 0.04, 0.04]
 */
export function benjaminiHochberg(pValues: Float64Array): Float64Array {
  checkPValues(pValues);
  const falling = Uint32Array.from(pValues.keys()).sort((a, b) => pValues[b]! - pValues[a]!);
  const adjusted = new Float64Array(pValues.length);
  let least = 1;
  for (const [above, test] of falling.entries()) {
    least = Math.min(least, (pValues.length * pValues[test]!) / (pValues.length - above));
    adjusted[test] = least;
  }
  return adjusted;
}

import betaIncomplete from "@stdlib/math-base-special-betainc";

/**
 * Probability that a variable of the F distribution exceeds a value, to full relative precision far out in the tail.
 * @param value - 0 or more, finite
 * @param above - degrees of freedom of the numerator, above 0
 * @param below - of the denominator, above 0; neither need be whole
 * @throws RangeError if an argument lies outside its range
 * @see NIST Digital Library of Mathematical Functions, 8.17 (the incomplete beta function)
 * @example fTail(161.4476, 1, 1); // 0.05
 */
export function fTail(value: number, above: number, below: number): number {
  const range = value >= 0 && value < Number.POSITIVE_INFINITY && above > 0 && below > 0;
  if (!range) throw new RangeError(`Cannot take an F probability: found ${value} with ${above} and ${below} degrees`);
  return betaIncomplete(below / (below + above * value), below / 2, above / 2);
}

import { checkedWhole } from "./check-chances.ts";

/**
 * Chances of each count as often as it was drawn: the histogram of simulated counts.
 * @param drawn - whole numbers from 0 on, at least one
 * @returns the share of draws of each count, from 0 to the largest
 * @throws RangeError for what are no counts, or none
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 9
 * @example countsOfDraws(Int32Array.of(0, 2, 2, 1))[2]; // 0.5
 */
export function countsOfDraws(drawn: Int32Array | Float64Array): Float64Array {
  if (drawn.length === 0) throw new RangeError("Cannot take chances of counts: none was drawn");
  let most = 0;
  for (const count of drawn) most = Math.max(most, checkedWhole("a count", count, 0));
  const times = new Float64Array(most + 1);
  for (const count of drawn) times[count]!++;
  return times.map((number) => number / drawn.length);
}

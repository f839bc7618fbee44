import { checkedShare } from "./check-chances.ts";
import { summed } from "./sum-of-counts.ts";

/** Trials summed one by one before their sums are put together. */
const BLOCK = 32;

/**
 * Chances of the number of successes among independent trials that differ in their chance: the Poisson-binomial distribution.
 * @param chances - of each trial, 0 to 1; as many as ten thousand take well under a second
 * @returns the chance of each number of successes, from 0 on, up to where less than 1e-15 is left
 * @throws RangeError for what is no chance
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 11
 * @example trialCounts(Float64Array.of(0.5, 0.1))[1]; // 0.5
 */
export function trialCounts(chances: Float64Array): Float64Array {
  for (const chance of chances) checkedShare("chance", chance);
  const blocks: Float64Array[] = [];
  for (let from = 0; from < chances.length; from += BLOCK) blocks.push(blockOf(chances.subarray(from, from + BLOCK)));
  return summed(blocks);
}

function blockOf(chances: Float64Array): Float64Array {
  const counts = new Float64Array(chances.length + 1);
  counts[0] = 1;
  for (const [trials, chance] of chances.entries()) {
    for (let k = trials + 1; k > 0; k--) counts[k] = counts[k]! * (1 - chance) + counts[k - 1]! * chance;
    counts[0]! *= 1 - chance;
  }
  return counts;
}

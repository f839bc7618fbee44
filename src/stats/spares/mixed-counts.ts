import { checkChances, checkedAmount } from "./check-chances.ts";

/**
 * Chances of a count that follows one law or another: over lead times that are not known, or over draws of a law's parameters.
 * @param counts - the chances of each count under each law, from 0 on; at least one
 * @param weights - of each law, 0 or more and not all 0; alike where not given
 * @returns the chance of each count, from 0 on
 * @throws RangeError for what are not chances, or no weights
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 2, ch. 2 (mixtures)
 * @example mixedCounts([poissonCounts(1), poissonCounts(3)])[0]; // 0.208833
 */
export function mixedCounts(counts: readonly Float64Array[], weights?: Float64Array): Float64Array {
  if (counts.length === 0 || (weights !== undefined && weights.length !== counts.length)) {
    throw new RangeError(`Cannot mix laws: found ${counts.length} of them and ${weights?.length ?? "no"} weights`);
  }
  for (const chances of counts) checkChances(chances);
  const shares = weights ?? new Float64Array(counts.length).fill(1);
  let all = 0;
  for (const weight of shares) all += checkedAmount("weight", weight);
  if (all === 0) throw new RangeError("Cannot mix laws: all weights are 0");
  const mixed = new Float64Array(counts.reduce((most, { length }) => Math.max(most, length), 0));
  for (const [law, chances] of counts.entries()) {
    const share = shares[law]! / all;
    for (let k = 0; k < chances.length; k++) mixed[k]! += share * chances[k]!;
  }
  return mixed;
}

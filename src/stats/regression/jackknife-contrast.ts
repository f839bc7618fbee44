import studentQuantile from "@stdlib/stats-base-dists-t-quantile";
import { fTail } from "../f-tail.ts";
import { jackknifeSpread } from "../jackknife-spread.ts";
import { checkedLevel } from "../level.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { type Contrast, checkedWeights, contrastOf } from "./contrast.ts";

/** A contrast by the jackknife; its limits lie about the estimate less the bias. */
export type JackknifeContrast = Contrast & { bias: number; degrees: number };

/**
 * A linear combination of coefficients with limits from the spread of the fits that each lack one cluster: about the estimate less its
 * jackknife bias, by t with the degrees of freedom that a variance of so unequal terms has.
 * @param refits - from `refitWithoutClusters`, or of another regression
 * @param weights - one for each number of the refits, in their order; 0 for those not given
 * @param level - confidence level, 0 < level < 1
 * @returns on the scale of the coefficients
 * @throws RangeError if the level lies outside its range, or weights are too many or no numbers
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 10 and 11; F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110-114
 * @example jackknifeContrast(refits, [0, 2, 0], 0.95);
 */
export function jackknifeContrast(
  { full, without }: ClusterRefits,
  weights: readonly number[],
  level: number,
): JackknifeContrast {
  checkedWeights(weights, full.length);
  return jackknifeLimits(
    contrastOf(full, weights),
    without.map((numbers) => contrastOf(numbers, weights)),
    level,
  );
}

/**
 * The same of any one number that fits give.
 * @param estimate - of all rows
 * @param values - of the fits that each lack one cluster
 */
export function jackknifeLimits(estimate: number, values: readonly number[], level: number): JackknifeContrast {
  const { mean, error, degrees } = jackknifeSpread(values);
  const bias = (values.length - 1) * (mean - estimate);
  const reach = studentQuantile((1 + checkedLevel(level)) / 2, degrees) * error;
  const middle = estimate - bias;
  const p = error > 0 ? fTail((middle / error) ** 2, 1, degrees) : 1;
  return { estimate, bias, error, degrees, low: middle - reach, high: middle + reach, p };
}

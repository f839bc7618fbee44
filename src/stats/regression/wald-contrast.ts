import { chiSquareTail } from "../chi-square-tail.ts";
import { normalHalfWidth } from "../level.ts";
import { type Contrast, checkedWeights, contrastOf } from "./contrast.ts";

/**
 * A linear combination of coefficients with normal limits.
 * @param coefficients - of a regression
 * @param covariance - of the coefficients, its own or a robust one; what it has beyond them (log sigma) is not looked at
 * @param weights - one for each coefficient, in their order; 0 for those not given
 * @param level - confidence level, 0 < level < 1
 * @returns on the scale of the coefficients
 * @throws RangeError if the level lies outside its range, or weights are too many or no numbers
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example waldContrast(fit.coefficients, fit.covariance, [0, 2, 0], 0.95); // for two units more of the first covariate
 */
export function waldContrast(
  coefficients: Float64Array,
  covariance: readonly (readonly number[])[],
  weights: readonly number[],
  level: number,
): Contrast {
  checkedWeights(weights, coefficients.length);
  const estimate = contrastOf(coefficients, weights);
  const along = weights.map((_, one) => contrastOf(covariance[one]!, weights));
  const error = Math.sqrt(Math.max(contrastOf(along, weights), 0));
  const reach = normalHalfWidth(level) * error;
  const p = error > 0 ? chiSquareTail((estimate / error) ** 2, 1) : 1;
  return { estimate, error, low: estimate - reach, high: estimate + reach, p };
}

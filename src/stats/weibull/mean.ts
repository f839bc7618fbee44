import logGamma from "@stdlib/math-base-special-gammaln";

/**
 * Mean life of a Weibull population: scale * gamma(1 + 1 / shape). Infinity where it is too large for a double (shape below about 0.006).
 * @param shape - above 0, no unit
 * @param scale - above 0, in the unit of the lives
 * @returns an age, in the unit of `scale`
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4
 * @example weibullMean(2, 1000); // 886.23
 */
export function weibullMean(shape: number, scale: number): number {
  if (!(shape > 0 && scale > 0)) throw new RangeError(`Cannot take a Weibull mean: found ${shape}, ${scale}`);
  return Math.exp(Math.log(scale) + logGamma(1 + 1 / shape));
}

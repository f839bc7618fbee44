/**
 * Age by which the fraction `p` of a Weibull population has failed: t = scale * (-ln(1 - p))^(1 / shape).
 * @param p - fraction failed, 0 <= p < 1; 0.1 gives L10
 * @param shape - above 0, no unit
 * @param scale - above 0, in the unit of the lives
 * @returns an age, in the unit of `scale`
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4
 * @example weibullQuantile(0.1, 1, 9000); // 948.24: L10 of an exponential life of mean 9000 h
 */
export function weibullQuantile(p: number, shape: number, scale: number): number {
  if (!(p >= 0 && p < 1)) throw new RangeError(`Cannot take a Weibull quantile: p must be in [0, 1), found ${p}`);
  if (!(shape > 0 && scale > 0)) throw new RangeError(`Cannot take a Weibull quantile: found ${shape}, ${scale}`);
  return scale * (-Math.log1p(-p)) ** (1 / shape);
}

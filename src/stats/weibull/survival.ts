/**
 * Fraction of a Weibull population still unfailed at an age: S(t) = exp(-(t / scale)^shape).
 * @param time - 0 or more, in the unit of `scale`
 * @param shape - above 0, no unit
 * @param scale - above 0
 * @returns a fraction, 0 to 1
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4
 * @example weibullSurvival(9000, 1, 9000); // 0.3679
 */
export function weibullSurvival(time: number, shape: number, scale: number): number {
  if (!(time >= 0)) throw new RangeError(`Cannot take a Weibull survival: the age must be 0 or more, found ${time}`);
  if (!(shape > 0 && scale > 0)) throw new RangeError(`Cannot take a Weibull survival: found ${shape}, ${scale}`);
  return Math.exp(-((time / scale) ** shape));
}

/**
 * Chance that a unit unfailed at age `age` is unfailed `further` later: exp((age / scale)^shape - ((age + further) / scale)^shape).
 * @param age - 0 or more, in the unit of `scale`
 * @param further - 0 or more, in the unit of `scale`
 * @param shape - above 0, no unit
 * @param scale - above 0
 * @returns a probability, 0 to 1
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12
 * @example conditionalSurvival(5000, 4000, 1, 9000); // 0.6412, at any age when shape is 1
 */
export function conditionalSurvival(age: number, further: number, shape: number, scale: number): number {
  if (!(age >= 0 && further >= 0)) {
    throw new RangeError(`Cannot take a conditional survival: ages must be 0 or more, found ${age}, ${further}`);
  }
  if (!(shape > 0 && scale > 0)) throw new RangeError(`Cannot take a conditional survival: found ${shape}, ${scale}`);
  return Math.exp((age / scale) ** shape - ((age + further) / scale) ** shape);
}

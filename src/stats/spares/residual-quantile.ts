import { checkWeibullLife, type WeibullLife } from "./survival.ts";

/**
 * Time within which a unit of an age fails with the chance p: scale ((age / scale)^shape - ln(1 - p))^(1 / shape) - age. With p = 0.5 the
 * median of what is left.
 * @param life - shape, scale and age
 * @param p - 0 <= p < 1
 * @returns a time, in the unit of `scale`; Infinity for what never fails
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12
 * @example residualQuantile({ shape: 2.5, scale: 20_000, age: 10_000 }, 0.5); // 8915.70
 */
export function residualQuantile(life: WeibullLife, p: number): number {
  checkWeibullLife(life);
  if (!(p >= 0 && p < 1)) throw new RangeError(`Cannot take a residual life: p must be in [0, 1), found ${p}`);
  const { shape, scale, age = 0 } = life;
  const further = -Math.log1p(-p);
  if (further === 0) return 0;
  if (scale === Number.POSITIVE_INFINITY) return scale;
  const begun = (age / scale) ** shape;
  return begun > further
    ? age * Math.expm1(Math.log1p(further / begun) / shape)
    : scale * (begun + further) ** (1 / shape) - age;
}

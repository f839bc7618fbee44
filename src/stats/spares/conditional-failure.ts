import { checkedAmount } from "./check-chances.ts";
import { checkWeibullLife, type WeibullLife } from "./survival.ts";

/**
 * Chance that a unit of an age fails within the next `further`: 1 - exp((age / scale)^shape - ((age + further) / scale)^shape), to full
 * relative precision however small.
 * @param life - shape, scale and age
 * @param further - time ahead, 0 or more, in the unit of `scale`
 * @returns a probability, 0 to 1
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12
 * @example conditionalFailure({ shape: 1.5, scale: 30_000, age: 12_000 }, 4000); // 0.1276
 */
export function conditionalFailure(life: WeibullLife, further: number): number {
  checkWeibullLife(life);
  checkedAmount("time ahead", further);
  const { shape, scale, age = 0 } = life;
  if (scale === Number.POSITIVE_INFINITY || further === 0) return 0;
  const begun = (age / scale) ** shape;
  const added = begun > 0 ? begun * Math.expm1(shape * Math.log1p(further / age)) : ((age + further) / scale) ** shape;
  return -Math.expm1(-added);
}

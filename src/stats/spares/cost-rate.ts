import { lifeToAge } from "./life-to-age.ts";
import { checkCosts, type ReplacementCosts } from "./replacement-costs.ts";
import { checkWeibullLife } from "./survival.ts";

/**
 * Cost a unit of time of replacing at each age, or at failure where that comes first:
 * (planned S(age) + unplanned F(age)) / integral of S from 0 to the age.
 * @param life - shape and scale of the lives
 * @param costs - of a planned and an unplanned replacement
 * @param ages - above 0, in the unit of `scale`; Infinity is run to failure
 * @returns a cost for each age
 * @throws RangeError if an argument lies outside its range
 * @see R. E. Barlow & F. Proschan, Mathematical Theory of Reliability, 1965, ch. 4
 * @example costRate({ shape: 2, scale: 1 }, { planned: 1, unplanned: 5 }, Float64Array.of(0.510655))[0]; // 4.08524
 */
export function costRate(
  life: { shape: number; scale: number },
  costs: ReplacementCosts,
  ages: Float64Array,
): Float64Array {
  checkWeibullLife(life);
  checkCosts(costs);
  return ages.map((age) => {
    if (!(age > 0)) throw new RangeError(`Cannot take a cost rate: an age must be above 0, found ${age}`);
    return costRateAt(life, costs, age);
  });
}

/** The same at one age, of arguments that are known to be in range. */
export function costRateAt(
  { shape, scale }: { shape: number; scale: number },
  costs: ReplacementCosts,
  age: number,
): number {
  if (scale === Number.POSITIVE_INFINITY) return age === scale ? 0 : costs.planned / age;
  const { planned, unplanned } = costs;
  const cost = planned + (unplanned - planned) * -Math.expm1(-((age / scale) ** shape));
  return cost / (scale * lifeToAge(shape, age / scale));
}

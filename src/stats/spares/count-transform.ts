import { checkChances, checkedShare, checkedWhole } from "./check-chances.ts";

/**
 * Randomised probability-integral transform of a count: P(D < count) + uniform P(D = count). Over forecasts that are right it is uniform
 * on 0 to 1, which the plain transform of a count is not.
 * @param chances - forecast chance of each count, from 0 on
 * @param count - what came: a whole number, 0 or more
 * @param uniform - a number drawn uniformly from [0, 1]
 * @returns a share: near 0 where less came than was forecast, near 1 where more did; 1 beyond every count forecast
 * @throws RangeError for what are not chances, no count or no share
 * @see C. Czado, T. Gneiting & L. Held, Biometrics 65 (2009) 1254-1261
 * @example countTransform(poissonCounts(1.25), 1, 0.5); // 0.465570
 */
export function countTransform(chances: Float64Array, count: number, uniform: number): number {
  checkChances(chances);
  checkedWhole("a count", count, 0);
  checkedShare("drawn number", uniform);
  let below = 0;
  for (let k = 0; k < Math.min(count, chances.length); k++) below += chances[k]!;
  return count < chances.length ? Math.min(below + uniform * chances[count]!, 1) : 1;
}

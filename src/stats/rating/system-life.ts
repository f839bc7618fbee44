import { LIFE_SLOPE } from "./rolling-element.ts";

/**
 * Rating life of several bearings that must all last, as those on one shaft: (sum of L^-slope)^(-1/slope). It is what independent
 * Weibull lives with that one shape give for the first failure among them.
 * @param lives - rating lives at one reliability, in one unit, each above 0
 * @param slope - 1.5 where not given, as in the common rule; `LIFE_SLOPE` has those of the standard by rolling element
 * @returns in the unit of the lives
 * @throws RangeError for no lives, or a life or slope that is not above 0 and finite
 * @see API 610, 12th edition, 6.10.1.11 (slope 1.5)
 * @example systemLife([37_037, 37_037]); // 23332
 */
export function systemLife(lives: ArrayLike<number>, slope: number = LIFE_SLOPE.common): number {
  if (!(slope > 0 && slope < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot combine rating lives: the slope must be above 0 and finite, found ${slope}`);
  }
  const shortest = shortestOf(lives);
  let sum = 0;
  for (let at = 0; at < lives.length; at++) sum += (shortest / lives[at]!) ** slope;
  return shortest * sum ** (-1 / slope);
}

function shortestOf(lives: ArrayLike<number>): number {
  if (lives.length === 0) throw new RangeError("Cannot combine rating lives: there are none");
  let shortest = Number.POSITIVE_INFINITY;
  for (let at = 0; at < lives.length; at++) {
    const life = lives[at]!;
    if (!(life > 0 && life < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`Cannot combine rating lives: each must be above 0 and finite, found ${life}`);
    }
    if (life < shortest) shortest = life;
  }
  return shortest;
}

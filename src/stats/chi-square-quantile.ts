import quantileOfFew from "@stdlib/stats-base-dists-chisquare-quantile";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { largeGamma } from "./large-gamma.ts";

/** From so many degrees on the library's quantile is not used: from 2,000 on it is wrong, by up to 7e-4 of itself. */
const MANY = 1000;

/**
 * Value that a chi-square variable stays below with probability `p`.
 * @param p - 0 < p < 1
 * @param degrees - degrees of freedom, above 0
 * @throws RangeError if an argument lies outside its range
 * @example chiSquareQuantile(0.95, 1); // 3.841459
 */
export function chiSquareQuantile(p: number, degrees: number): number {
  if (!(p > 0 && p < 1 && degrees > 0 && degrees < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take a chi-square quantile: found probability ${p} with ${degrees} degrees`);
  }
  return degrees < MANY ? quantileOfFew(p, degrees) : quantileOfMany(p, degrees);
}

/** Newton on the log of the smaller tail, from the cube-root approximation of Wilson and Hilferty. */
function quantileOfMany(p: number, degrees: number): number {
  const spread = 2 / (9 * degrees);
  let x = (degrees / 2) * (1 - spread + normalQuantile(p, 0, 1) * Math.sqrt(spread)) ** 3;
  for (let step = 0; step < MOST_STEPS; step++) {
    const { lower, upper, density } = largeGamma(degrees / 2, x);
    const move = p < 0.5 ? (lower * Math.log(lower / p)) / density : (-upper * Math.log(upper / (1 - p))) / density;
    x -= move;
    if (Math.abs(move) < 1e-14 * x) break;
  }
  return 2 * x;
}

const MOST_STEPS = 20;

import gammainc from "@stdlib/math-base-special-gammainc";
import { largeGamma } from "./large-gamma.ts";

/**
 * Probability that a chi-square variable exceeds a value, to full relative precision far out in the tail.
 * @param value - 0 or more, finite
 * @param degrees - degrees of freedom, above 0
 * @throws RangeError if an argument lies outside its range
 * @example chiSquareTail(3.841459, 1); // 0.05
 */
export function chiSquareTail(value: number, degrees: number): number {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY && degrees > 0)) {
    throw new RangeError(`Cannot take a chi-square probability: found ${value} with ${degrees} degrees`);
  }
  if (degrees >= MANY && value > 0) return largeGamma(degrees / 2, value / 2).upper;
  return gammainc(value / 2, degrees / 2, true, true);
}

/** From 2,000 degrees on the library is off by up to 3 %. */
const MANY = 1000;

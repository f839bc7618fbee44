import gammainc from "@stdlib/math-base-special-gammainc";
import { largeGamma } from "../large-gamma.ts";

/** From so large a shape on the library is off by up to 3 %. */
const LARGE = 500;

/** Probability that a gamma variable of scale 1 exceeds x, to full relative precision; x is 0 or more, and may be infinite. */
export function gammaUpperTail(shape: number, x: number): number {
  if (x === 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return shape < LARGE ? gammainc(x, shape, true, true) : largeGamma(shape, x).upper;
}

/** Probability that it stays at x or below, likewise. */
export function gammaLowerTail(shape: number, x: number): number {
  if (x === 0) return 0;
  if (x === Number.POSITIVE_INFINITY) return 1;
  return shape < LARGE ? gammainc(x, shape, true, false) : largeGamma(shape, x).lower;
}

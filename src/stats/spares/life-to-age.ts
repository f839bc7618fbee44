import logGamma from "@stdlib/math-base-special-gammaln";
import { gammaLowerTail } from "../offenders/gamma-tails.ts";

/** Mean time that a Weibull life of scale 1 runs up to an age, if so long: the integral of S from 0, gamma(1 / shape, age^shape) / shape. */
export function lifeToAge(shape: number, age: number): number {
  const power = 1 / shape;
  return Math.exp(logGamma(1 + power) + Math.log(gammaLowerTail(power, age ** shape)));
}

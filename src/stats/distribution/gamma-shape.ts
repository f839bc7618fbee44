import digamma from "@stdlib/math-base-special-digamma";
import logGamma from "@stdlib/math-base-special-gammaln";
import trigamma from "@stdlib/math-base-special-trigamma";
import type { Curve } from "./family.ts";
import { logGammaRatioAt } from "./log-gamma-ratio.ts";

/** What the gamma distribution's functions need of a shape a = exp(e) alone. */
export type GammaShape = {
  e: number;
  a: number;
  /** True where terms are taken about the scale's e-fold of the shape, so that large ones do not cancel: a >= 10. */
  large: boolean;
  /** log of the density of W at w = e and a more, if large; else e - log gamma(1 + a). */
  front: number;
  /** log(a) - digamma(1 + a) if large; else -digamma(1 + a). */
  centre: number;
  /** a^2 trigamma(1 + a). */
  bend: number;
  /** log gamma(1 + a) / a. */
  logGammaRatio: Curve;
};

let last = freshShape(0);

/** The terms of a shape; those of the last one are kept, since a pass over lives has one shape. */
export function gammaShape(e: number): GammaShape {
  if (last.e !== e) last = freshShape(e);
  return last;
}

function freshShape(e: number): GammaShape {
  const a = Math.exp(e);
  const bend = a * a * trigamma(1 + a);
  const logGammaRatio = logGammaRatioAt(a);
  if (a < 10) {
    return { e, a, large: false, front: e - logGamma(1 + a), centre: -digamma(1 + a), bend, logGammaRatio };
  }
  const inverse = 1 / a;
  const square = inverse * inverse;
  return {
    e,
    a,
    large: true,
    front: Math.log(a / (2 * Math.PI)) / 2 - inverse * polynomial(STIRLING, square),
    centre: -inverse / 2 + square * polynomial(DIGAMMA, square),
    bend,
    logGammaRatio,
  };
}

function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let at = coefficients.length - 1; at >= 0; at--) sum = sum * x + coefficients[at]!;
  return sum;
}

/** log gamma(a) = (a - 1/2) log a - a + log(2 pi) / 2 + sum of these / a^(2n - 1): DLMF 5.11.1. */
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156];

/** log a - digamma(a) = 1 / (2a) + sum of these / a^(2n): DLMF 5.11.2. */
const DIGAMMA = [1 / 12, -1 / 120, 1 / 252, -1 / 240, 1 / 132, -691 / 32760, 1 / 12];

/** Log of the density of W at w. */
export function logGammaDensity(shape: GammaShape, w: number, x: number): number {
  return shape.large ? shape.a * lessLinear(w - shape.e) + shape.front : shape.a * w - x + shape.front;
}

/** a (w - digamma(1 + a)). */
export function gammaPull(shape: GammaShape, w: number): number {
  return shape.a * ((shape.large ? w - shape.e : w) + shape.centre);
}

/** x - a. */
export function gammaExcess(shape: GammaShape, w: number, x: number): number {
  const from = w - shape.e;
  return Math.abs(from) < 0.5 ? shape.a * Math.expm1(from) : x - shape.a;
}

/** d - (exp(d) - 1). */
function lessLinear(d: number): number {
  if (Math.abs(d) > 0.4) return d - Math.expm1(d);
  let sum = 0;
  for (let n = 14; n >= 3; n--) sum = ((1 + sum) * d) / n;
  return (-d * d * (1 + sum)) / 2;
}

import digamma from "@stdlib/math-base-special-digamma";
import logGamma from "@stdlib/math-base-special-gammaln";
import trigamma from "@stdlib/math-base-special-trigamma";
import type { Curve } from "./family.ts";

/**
 * log gamma(1 + a) / a and its derivatives by log a, to full relative precision as a goes to 0: there it is
 * -0.577 + sum of zeta(k) (-1)^k a^(k - 1) / k from k = 2.
 * @see NIST Digital Library of Mathematical Functions, 5.7.3
 */
export function logGammaRatioAt(a: number): Curve {
  if (a > SERIES_BELOW) {
    const value = logGamma(1 + a) / a;
    const e = digamma(1 + a) - value;
    return { value, e, ee: a * trigamma(1 + a) - e };
  }
  const ratio = { value: 0, e: 0, ee: 0 };
  for (let at = ZETA.length - 1; at >= 0; at--) {
    const order = at + 1;
    const term = (ZETA[at]! * (-1) ** (order + 1) * a ** order) / (order + 1);
    ratio.value += term;
    ratio.e += order * term;
    ratio.ee += order * order * term;
  }
  ratio.value -= EULER;
  return ratio;
}

/** Above it the differences lose less than three digits. */
const SERIES_BELOW = 0.1;

const EULER = 0.5772156649015329;

/** Riemann's zeta at 2, 3, ... 17 (mpmath 1.3.0: zeta(k); DLMF 25.2). */
const ZETA = [
  1.6449340668482264, 1.2020569031595942, 1.0823232337111381, 1.03692775514337, 1.0173430619844492, 1.008349277381923,
  1.0040773561979444, 1.0020083928260821, 1.000994575127818, 1.0004941886041194, 1.000246086553308, 1.0001227133475785,
  1.0000612481350588, 1.000030588236307, 1.0000152822594086, 1.0000076371976379,
];

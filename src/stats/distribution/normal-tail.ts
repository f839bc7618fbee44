import scaledErfc from "@stdlib/math-base-special-erfcx";

/** log of the standard normal distribution function at x, to full relative precision in both tails. */
export function logNormalTail(x: number): number {
  if (x > 0) return Math.log1p(-upperTail(x));
  return Math.log(scaledErfc(-x * Math.SQRT1_2) / 2) - (x * x) / 2;
}

/** First derivative of `logNormalTail`: density over distribution function, the inverse of Mills' ratio. */
export function normalTailSlope(x: number): number {
  if (x > 0) return (Math.exp((-x * x) / 2) * DENSITY_AT_0) / (1 - upperTail(x));
  return (2 * DENSITY_AT_0) / scaledErfc(-x * Math.SQRT1_2);
}

/** Second derivative of `logNormalTail`, from the first: -slope * (x + slope). */
export function normalTailBend(x: number, slope: number): number {
  return -slope * (x > -FAR ? x + slope : farExcess(-x));
}

const DENSITY_AT_0 = 1 / Math.sqrt(2 * Math.PI);

function upperTail(x: number): number {
  return (Math.exp((-x * x) / 2) * scaledErfc(x * Math.SQRT1_2)) / 2;
}

/** From here on x + slope cancels. */
const FAR = 6;

/**
 * x + slope at x = -t by Laplace's continued fraction, 1 / (t + 2 / (t + 3 / (t + ...))).
 * @see NIST Digital Library of Mathematical Functions, 7.9.1
 */
function farExcess(t: number): number {
  let fraction = t;
  for (let term = t > 50 ? 5 : 24; term >= 2; term--) fraction = t + term / fraction;
  return 1 / fraction;
}

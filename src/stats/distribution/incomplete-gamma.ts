import type { Terms } from "./family.ts";
import { type GammaShape, gammaExcess, gammaPull, logGammaDensity } from "./gamma-shape.ts";

/**
 * Writes the terms of log P(a, x), the fraction failed, by its power series, whose terms are all positive and whose derivatives lose
 * nothing by cancellation: P = density / a * sum of T(n), T(n) = x^n / ((a + 1) ... (a + n)). Meant for x < a.
 * @see NIST Digital Library of Mathematical Functions, 8.7.1
 */
export function writeLowerGamma(shape: GammaShape, w: number, x: number, out: Terms): void {
  const { a } = shape;
  let [term, sum, number] = [1, 1, 0];
  let [inverses, squares, slope, bend] = [0, 0, 0, 0];
  for (let n = 1; term > sum * NEGLIGIBLE && n < MOST_TERMS; n++) {
    const inverse = 1 / (a + n);
    term *= x * inverse;
    inverses += inverse;
    squares += inverse * inverse;
    sum += term;
    number += n * term;
    slope += term * inverses;
    bend += term * (inverses * inverses + squares);
  }
  const mean = slope / sum;
  const rate = a / sum;
  const pull = gammaPull(shape, w) - a * mean;
  out.value = logGammaDensity(shape, w, x) - shape.e + Math.log(sum);
  out.w = rate;
  out.e = pull;
  out.ww = (-rate * number) / sum;
  out.we = rate * (1 + a * mean);
  out.ee = pull - shape.bend + a * a * (bend / sum - mean * mean);
}

const NEGLIGIBLE = 1e-18;

/** Shape exp(7) needs some 300 at x = a. */
const MOST_TERMS = 20_000;

/**
 * Writes the terms of log Q(a, x), the fraction unfailed, by its continued fraction: Q = density / F(0),
 * F(n) = x + 2n + 1 - a - c(n + 1) / F(n + 1), c(n) = n (n - a), with the derivatives of F by a. Meant for x >= max(a, 1).
 * @see NIST Digital Library of Mathematical Functions, 8.9.2 in its even part
 */
export function writeUpperGamma(shape: GammaShape, w: number, x: number, out: Terms): void {
  const { a } = shape;
  const excess = gammaExcess(shape, w, x);
  const depth = levels(a, x, excess);
  let value = excess + 2 * depth + 1;
  let [slope, bend, part] = [-1, 0, 0];
  for (let n = depth; n >= 1; n--) {
    const inverse = 1 / value;
    part = n * (n - a) * inverse;
    const partSlope = -(n + part * slope) * inverse;
    const partBend = -(2 * partSlope * slope + part * bend) * inverse;
    value = excess + 2 * n - 1 - part;
    slope = -1 - partSlope;
    bend = -partBend;
  }
  const mean = -slope / value;
  const pull = gammaPull(shape, w) + a * mean;
  out.value = logGammaDensity(shape, w, x) - Math.log(value);
  out.w = -value;
  out.e = 1 + pull;
  out.ww = -value * (1 - part);
  out.we = -a * slope;
  out.ee = pull - shape.bend + a * a * (mean * mean - bend / value);
}

/** Levels by which the continued fraction and its derivatives stand to 1e-15: fitted to counts at shapes 1e-3 to 1100. */
function levels(a: number, x: number, excess: number): number {
  const root = Math.sqrt(a);
  return Math.ceil(Math.max(12 + 85 / x, 6 + (4.2 * root) / (1 + (0.3 * excess) / root)));
}

/** Turns the terms of log p into those of log(1 - p). */
export function writeComplement(out: Terms): void {
  const { value, w, e, ww, we, ee } = out;
  const odds = 1 / Math.expm1(-value);
  out.value = value > -Math.LN2 ? Math.log(-Math.expm1(value)) : Math.log1p(-Math.exp(value));
  const all = 1 + odds;
  out.w = odds === 0 ? 0 : -odds * w;
  out.e = odds === 0 ? 0 : -odds * e;
  out.ww = odds === 0 ? 0 : -odds * (ww + all * w * w);
  out.we = odds === 0 ? 0 : -odds * (we + all * w * e);
  out.ee = odds === 0 ? 0 : -odds * (ee + all * e * e);
}

import { writeChain } from "./chain.ts";
import type { Curve, Family, Terms } from "./family.ts";

/**
 * Log-logistic: S = 1 / (1 + exp(k w)), k = exp(e) the shape.
 * @see Meeker, Escobar & Pascual, Statistical Methods for Reliability Data, 2nd ed., section 4.11
 */
export const logLogistic: Family = {
  name: "log-logistic",
  fitsShape: true,
  logDensity(w, e, out) {
    const k = Math.exp(e);
    const z = k * w;
    const small = Math.exp(-Math.abs(z));
    const whole = 1 + small;
    const slope = (z > 0 ? Math.expm1(-z) : -Math.expm1(z)) / whole;
    writeChain(z, k, -Math.abs(z) - 2 * Math.log1p(small), slope, (-2 * small) / (whole * whole), out);
    out.value += e;
    out.e += 1;
  },
  logSurvival(w, e, out) {
    const k = Math.exp(e);
    writeTail(k * w, k, 1, out);
  },
  logFailed(w, e, out) {
    const k = Math.exp(e);
    writeTail(k * w, k, -1, out);
  },
  quantile(p, e) {
    const w = (Math.log(p) - Math.log1p(-p)) * Math.exp(-e);
    return { value: w, e: -w, ee: w };
  },
  logMean: (e) => (e > 0 ? logMeanAbove(e) : null),
  start: { mean: 0, deviation: Math.PI / Math.sqrt(3) },
};

/** -log(1 + exp(side * z)). */
function writeTail(z: number, k: number, side: 1 | -1, out: Terms): void {
  const small = Math.exp(-Math.abs(z));
  const whole = 1 + small;
  const towards = side * z;
  const value = -Math.max(towards, 0) - Math.log1p(small);
  const slope = (towards > 0 ? -1 : -small) / whole;
  writeChain(z, k, value, side * slope, -small / (whole * whole), out);
}

/** log(y / sin y), y = pi / k: the mean is scale * y / sin y. */
function logMeanAbove(e: number): Curve {
  const inverse = Math.exp(-e);
  if (inverse < SERIES_BELOW) return smallLogMean(inverse * inverse);
  const y = Math.PI * inverse;
  const ratio = y / Math.sin(-Math.PI * Math.expm1(-e));
  const turn = ratio * Math.cos(y);
  return { value: Math.log(ratio), e: turn - 1, ee: ratio * ratio - turn };
}

/** Below this 1 / k the differences above cancel. */
const SERIES_BELOW = 0.1;

/** log(y / sin y) = sum of zeta(2n) k^(-2n) / n. */
function smallLogMean(square: number): Curve {
  const curve = { value: 0, e: 0, ee: 0 };
  let power = square;
  for (const [at, zeta] of EVEN_ZETA.entries()) {
    const n = at + 1;
    curve.value += (zeta * power) / n;
    curve.e -= 2 * zeta * power;
    curve.ee += 4 * n * zeta * power;
    power *= square;
  }
  return curve;
}

/** Riemann's zeta at 2, 4, ... 16 (NIST Digital Library of Mathematical Functions, 25.6.1 with table 24.2.1). */
const EVEN_ZETA = [
  Math.PI ** 2 / 6,
  Math.PI ** 4 / 90,
  Math.PI ** 6 / 945,
  Math.PI ** 8 / 9450,
  Math.PI ** 10 / 93555,
  (691 * Math.PI ** 12) / 638512875,
  (2 * Math.PI ** 14) / 18243225,
  (3617 * Math.PI ** 16) / 325641566250,
];

import { extremeFailedBend, extremeFailedSlope, logExtremeFailed } from "./extreme-value.ts";
import type { Curve, Terms } from "./family.ts";
import type { GammaShape } from "./gamma-shape.ts";

const M: Terms = { value: 0, w: 0, e: 0, ww: 0, we: 0, ee: 0 };

/** Writes the terms of log P(a, x) for a < 1 and x < 1, where P may be as near to 1 as 1 - a. */
export function writeSmallLower(shape: GammaShape, w: number, x: number, out: Terms): void {
  const { a } = shape;
  writeM(shape, w, x);
  out.value = -a * M.value;
  out.w = -a * M.w;
  out.e = -a * (M.value + M.e);
  out.ww = -a * M.ww;
  out.we = -a * (M.w + M.we);
  out.ee = -a * (M.value + 2 * M.e + M.ee);
}

/** Writes the terms of log Q(a, x) for a < 1 and x < 1: log(1 - exp(-a M)). */
export function writeSmallUpper(shape: GammaShape, w: number, x: number, out: Terms): void {
  const { e, a } = shape;
  writeM(shape, w, x);
  const u = a * M.value;
  const slope = extremeFailedSlope(u);
  const bend = extremeFailedBend(u, slope);
  const byW = M.w / M.value;
  const byLog = M.e / M.value;
  const byE = 1 + byLog;
  out.value = logExtremeFailed(e + Math.log(M.value), u);
  out.w = slope * byW;
  out.e = slope * byE;
  out.ww = bend * byW * byW + slope * (M.ww / M.value - byW * byW);
  out.we = bend * byW * byE + slope * (M.we / M.value - byW * byLog);
  out.ee = bend * byE * byE + slope * (M.ee / M.value - byLog * byLog);
}

/**
 * Writes M = -log P(a, x) / a and its derivatives by (w, e), to full relative precision for small a too:
 * P = x^a / gamma(1 + a) * (1 - a R), R = sum of (-1)^(n + 1) x^n / ((a + n) n!) from n = 1,
 * and so M = -w + log gamma(1 + a) / a + R * K(a R), K(y) = -log(1 - y) / y.
 * @see NIST Digital Library of Mathematical Functions, 8.7.1
 */
function writeM({ a, logGammaRatio }: GammaShape, w: number, x: number): void {
  let [R, byW, byE, byWW, byWE, byEE] = [0, 0, 0, 0, 0, 0];
  let power = -1;
  for (let n = 1; n <= 20; n++) {
    power *= -x / n;
    const inverse = 1 / (a + n);
    const term = power * inverse;
    const turn = -a * inverse;
    R += term;
    byW += n * term;
    byE += term * turn;
    byWW += n * n * term;
    byWE += n * term * turn;
    byEE += term * turn * (1 + 2 * turn);
  }
  const y = a * R;
  const rest = 1 / (1 - y);
  const yByE = y + a * byE;
  const yByEE = y + 2 * a * byE + a * byEE;
  const K = ratioOfLog(y, rest);
  const { value, e, ee } = logGammaRatio;
  M.value = -w + value + R * K.value;
  M.w = -1 + byW * rest;
  M.e = e + byE * K.value + R * K.e * yByE;
  M.ww = byWW * rest + a * (byW * rest) ** 2;
  M.we = byWE * rest + byW * rest * rest * yByE;
  M.ee = ee + byEE * K.value + 2 * byE * K.e * yByE + R * (K.ee * yByE * yByE + K.e * yByEE);
}

/** K and its derivatives by y, rest = 1 / (1 - y). */
function ratioOfLog(y: number, rest: number): Curve {
  if (y > SERIES_BELOW) {
    const value = -Math.log1p(-y) / y;
    const e = (rest - value) / y;
    return { value, e, ee: (rest * rest - 2 * e) / y };
  }
  const K = { value: 0, e: 0, ee: 0 };
  for (let n = 20; n >= 0; n--) {
    K.ee = K.ee * y + 2 * K.e;
    K.e = K.e * y + K.value;
    K.value = K.value * y + 1 / (n + 1);
  }
  return K;
}

/** Below it the differences cancel, and K = sum of y^n / (n + 1) serves. */
const SERIES_BELOW = 0.15;

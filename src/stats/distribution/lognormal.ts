import inverseErfc from "@stdlib/math-base-special-erfcinv";
import { writeChain } from "./chain.ts";
import type { Family, Terms } from "./family.ts";
import { logNormalTail, normalTailBend, normalTailSlope } from "./normal-tail.ts";

/**
 * Lognormal: log T = mu + sigma Z with Z standard normal; scale = exp(mu), the median, and shape k = exp(e) = 1 / sigma.
 * @see Meeker, Escobar & Pascual, Statistical Methods for Reliability Data, 2nd ed., section 4.7
 */
export const lognormal: Family = {
  name: "lognormal",
  fitsShape: true,
  logDensity(w, e, out) {
    const k = Math.exp(e);
    const z = k * w;
    writeChain(z, k, -(z * z) / 2 - HALF_LOG_TWO_PI, -z, -1, out);
    out.value += e;
    out.e += 1;
  },
  logSurvival(w, e, out) {
    const k = Math.exp(e);
    writeTail(k * w, k, -1, out);
  },
  logFailed(w, e, out) {
    const k = Math.exp(e);
    writeTail(k * w, k, 1, out);
  },
  quantile(p, e) {
    const w = -Math.SQRT2 * inverseErfc(2 * p) * Math.exp(-e);
    return { value: w, e: -w, ee: w };
  },
  logMean(e) {
    const half = Math.exp(-2 * e) / 2;
    return { value: half, e: -2 * half, ee: 4 * half };
  },
  start: { mean: 0, deviation: 1 },
};

const HALF_LOG_TWO_PI = Math.log(2 * Math.PI) / 2;

/** log of the standard normal distribution function at side * z. */
function writeTail(z: number, k: number, side: 1 | -1, out: Terms): void {
  const x = side * z;
  const slope = normalTailSlope(x);
  writeChain(z, k, logNormalTail(x), side * slope, normalTailBend(x, slope), out);
}

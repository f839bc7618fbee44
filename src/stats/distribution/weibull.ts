import digamma from "@stdlib/math-base-special-digamma";
import logGamma from "@stdlib/math-base-special-gammaln";
import trigamma from "@stdlib/math-base-special-trigamma";
import { writeChain } from "./chain.ts";
import { extremeFailedBend, extremeFailedSlope, logExtremeFailed } from "./extreme-value.ts";
import type { Family } from "./family.ts";

/**
 * Weibull: S = exp(-exp(k w)), k = exp(e) the shape.
 * @see Meeker, Escobar & Pascual, Statistical Methods for Reliability Data, 2nd ed., section 4.8
 */
export const weibull: Family = {
  name: "weibull",
  fitsShape: true,
  logDensity(w, e, out) {
    const k = Math.exp(e);
    const z = k * w;
    const u = Math.exp(z);
    writeChain(z, k, z - u, 1 - u, -u, out);
    out.value += e;
    out.e += 1;
  },
  logSurvival(w, e, out) {
    const k = Math.exp(e);
    const z = k * w;
    const u = Math.exp(z);
    writeChain(z, k, -u, -u, -u, out);
  },
  logFailed(w, e, out) {
    const k = Math.exp(e);
    const z = k * w;
    const u = Math.exp(z);
    const slope = extremeFailedSlope(u);
    writeChain(z, k, logExtremeFailed(z, u), slope, extremeFailedBend(u, slope), out);
  },
  quantile(p, e) {
    const w = Math.log(-Math.log1p(-p)) * Math.exp(-e);
    return { value: w, e: -w, ee: w };
  },
  logMean(e) {
    const y = Math.exp(-e);
    const slope = y * digamma(1 + y);
    return { value: logGamma(1 + y), e: -slope, ee: slope + y * y * trigamma(1 + y) };
  },
  start: { mean: -0.5772156649015329, deviation: Math.PI / Math.sqrt(6) },
};

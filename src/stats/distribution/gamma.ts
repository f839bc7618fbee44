import type { Curve, Family, Terms } from "./family.ts";
import { gammaQuantile } from "./gamma-quantile.ts";
import { gammaExcess, gammaPull, gammaShape, logGammaDensity } from "./gamma-shape.ts";
import { writeComplement, writeLowerGamma, writeUpperGamma } from "./incomplete-gamma.ts";
import { writeSmallLower, writeSmallUpper } from "./small-gamma.ts";
import { weibull } from "./weibull.ts";

/**
 * Gamma: S = Q(a, exp(w)), the regularised upper incomplete gamma function, a = exp(e) the shape.
 * @see NIST Digital Library of Mathematical Functions, 8.2
 */
export const gamma: Family = {
  name: "gamma",
  fitsShape: true,
  logDensity(w, e, out) {
    const shape = gammaShape(e);
    const bounded = Math.min(w, HIGHEST);
    const x = Math.exp(bounded);
    const pull = gammaPull(shape, bounded);
    out.value = logGammaDensity(shape, bounded, x);
    out.w = -gammaExcess(shape, bounded, x);
    out.e = 1 + pull;
    out.ww = -x;
    out.we = shape.a;
    out.ee = pull - shape.bend;
  },
  logSurvival: writeLogSurvival,
  logFailed: writeLogFailed,
  quantile: (p, e) => gammaQuantile(gamma, p, e),
  logMean: (e): Curve => ({ value: e, e: 1, ee: 0 }),
  start: weibull.start,
};

/** Farther out exp(w) leaves the range of numbers, and all stays as it is here: log survival is -1e300. */
const HIGHEST = 690.7;

function writeLogSurvival(w: number, e: number, out: Terms): void {
  const shape = gammaShape(e);
  const bounded = Math.min(w, HIGHEST);
  const x = Math.exp(bounded);
  if (x >= Math.max(shape.a, 1)) writeUpperGamma(shape, bounded, x, out);
  else if (shape.a < 1) writeSmallUpper(shape, bounded, x, out);
  else {
    writeLowerGamma(shape, bounded, x, out);
    writeComplement(out);
  }
}

function writeLogFailed(w: number, e: number, out: Terms): void {
  const shape = gammaShape(e);
  const bounded = Math.min(w, HIGHEST);
  const x = Math.exp(bounded);
  if (x >= Math.max(shape.a, 1)) {
    writeUpperGamma(shape, bounded, x, out);
    writeComplement(out);
  } else if (shape.a < 1) writeSmallLower(shape, bounded, x, out);
  else writeLowerGamma(shape, bounded, x, out);
}

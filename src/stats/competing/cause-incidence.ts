import type { ConvergedWeibull, WeibullFit } from "../weibull/fit.ts";
import { type CauseRefusal, fittedCauses } from "./fitted-causes.ts";
import { integral } from "./integral.ts";

/** Incidence of each cause (a row each) at each age asked for; null where a cause has no distribution, and `reason` says why. */
export type CauseIncidence = { incidence: Float64Array[] } | ({ incidence: null } & CauseRefusal);

/**
 * Fraction of lives that fail of each cause by an age, by the causes' Weibull distributions:
 * the integral of the hazard of the cause times the survival of all causes, from age 0.
 * @param fits - of each cause, as `causeWeibulls` gives them
 * @param times - ages of 0 or more
 * @returns for each cause a column as long as `times`, fractions from 0 to 1; or null, and the cause that has no distribution
 * @throws RangeError for an age out of range
 * @see Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data, ch. 8
 * @example causeIncidence(causeWeibulls(lives, 2), Float64Array.of(1000, 8760));
 */
export function causeIncidence(fits: WeibullFit[], times: Float64Array): CauseIncidence {
  const wrong = times.find((time) => !(time >= 0 && time < Number.POSITIVE_INFINITY));
  if (wrong !== undefined) throw new RangeError(`Cannot take an incidence: the age must be 0 or more, found ${wrong}`);
  const fitted = fittedCauses(fits);
  if ("reason" in fitted) return { incidence: null, ...fitted };
  return { incidence: fitted.map((_, cause) => times.map((time) => incidenceBy(fitted, cause, time))) };
}

/** How far below its greatest an integrand is as good as 0, as a logarithm. */
const NOTHING = 45;

/**
 * Over y, the log of the cause's own cumulative hazard, the integrand exp(y - sum of cumulative hazards) is smooth with a single
 * peak, whatever the shapes; over age it has no bound at 0 where a shape is below 1.
 */
function incidenceBy(fits: ConvergedWeibull[], cause: number, time: number): number {
  if (time === 0) return 0;
  const own = fits[cause]!;
  const terms = fits.map(({ shape, scale }) => ({
    level: shape * Math.log(own.scale / scale),
    ratio: shape / own.shape,
  }));
  const logIntegrand = (y: number) => terms.reduce((sum, { level, ratio }) => sum - Math.exp(level + ratio * y), y);
  const slope = (y: number) => terms.reduce((sum, { level, ratio }) => sum - ratio * Math.exp(level + ratio * y), 1);
  const last = own.shape * Math.log(time / own.scale);
  // The own hazard alone makes the slope 0 at y = 0: the peak lies there or below.
  const highest = slope(last) >= 0 ? last : crossing(slope, lowestPeak(terms), Math.min(0, last));
  const peak = logIntegrand(highest);
  const end =
    logIntegrand(last) >= peak - NOTHING ? last : crossing((y) => logIntegrand(y) - peak + NOTHING, highest, last);
  const value = (y: number) => Math.exp(logIntegrand(y));
  return Math.min(1, integral(value, peak - NOTHING, highest) + integral(value, highest, end));
}

/** Where each of the causes' terms of the slope is at most its share of 1: the peak can't lie below. */
function lowestPeak(terms: { level: number; ratio: number }[]): number {
  return Math.min(...terms.map(({ level, ratio }) => (-Math.log(ratio * terms.length) - level) / ratio));
}

/** Where a falling function crosses 0, to the last digit. */
function crossing(value: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  for (let halving = 0; halving < 200; halving++) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (value(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}

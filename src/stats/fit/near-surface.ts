import { likelihoodBy } from "../weibull/log-likelihood.ts";
import { hazardSumsAround, wideSeries } from "../weibull/wide-series.ts";
import { type ConvergedFit, pointOf } from "./fit.ts";
import type { Surface } from "./surface.ts";
import { carriedSlopes, levelAndShape } from "./weibull-surface.ts";

/** Of fewer terms than this the plain sums are as quick. */
const FEWEST_TERMS = 60;

/**
 * The same surface for a search around its maximum: of a Weibull distribution of many lives the likelihood nearby follows from sums taken once,
 * to the digits that a pass over the lives would give; further away, and of other families, the lives are passed over as before.
 * @param surface - the likelihood of the lives
 * @param fit - its maximum
 * @returns a surface of the same values
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 (the likelihood, of which this is Taylor's series)
 * @example const near = nearSurface(surface, fit); profileInterval(near, fit, { kind: "shape" }, 0.95);
 */
export function nearSurface(surface: Surface, fit: ConvergedFit): Surface {
  const { gathered, typicalLog, family } = surface;
  if (gathered === undefined || family.name !== "weibull" || gathered.z.length < FEWEST_TERMS) return surface;
  const series = wideSeries(gathered, levelAndShape(pointOf(fit), typicalLog));
  return {
    ...surface,
    at: (a, e) => {
      const point = levelAndShape({ a, e }, typicalLog);
      const sums = hazardSumsAround(series, point);
      return sums === null ? surface.at(a, e) : carriedSlopes(likelihoodBy(sums, gathered, point), point);
    },
  };
}

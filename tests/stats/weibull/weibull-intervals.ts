import { familyOf } from "../../../src/stats/distribution/families.ts";
import { lineLimits as linesOf } from "../../../src/stats/fit/line-limits.ts";
import { profileInterval as profileOf } from "../../../src/stats/fit/profile-interval.ts";
import type { Interval, Quantity } from "../../../src/stats/fit/quantity.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import { waldInterval as waldOf } from "../../../src/stats/fit/wald-interval.ts";
import { weibullSurface } from "../../../src/stats/fit/weibull-surface.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import type { ConvergedWeibull } from "../../../src/stats/weibull/fit.ts";
import type { GatheredLives } from "../../../src/stats/weibull/gathered-lives.ts";

const weibull = familyOf("weibull");

/** Limits of any fit, of Weibull ones. */
export function profileInterval(
  lives: Lives | IntervalLives | GatheredLives,
  fit: ConvergedWeibull,
  quantity: Quantity,
  level: number,
  cutOff?: number,
): Interval {
  const surface = "typicalLog" in lives ? weibullSurface(lives) : surfaceOf(lives, "weibull");
  if ("refused" in surface) throw new RangeError(`Cannot take limits: ${surface.refused}`);
  return profileOf(surface, fit, quantity, level, cutOff);
}

export function waldInterval(fit: ConvergedWeibull, quantity: Quantity, level: number): Interval {
  return waldOf(weibull, fit, quantity, level);
}

export function lineLimits(fit: ConvergedWeibull, times: Float64Array, level: number) {
  return linesOf(weibull, fit, times, level);
}

import { normalHalfWidth } from "../level.ts";
import type { CurveStep } from "./kaplan-meier.ts";

/** Mean life up to an age; `se`, `low` and `high` are null where the variance is not defined. */
export type RestrictedMean = { estimate: number; se: number | null; low: number | null; high: number | null };

/**
 * Mean life of lives cut off at age `until`: the area under the survival curve from 0 to `until`, with Greenwood's variance
 * (sum over failures of (area beyond)^2 * failed / (at risk * (at risk - failed))) and normal limits.
 * @param steps - a Kaplan-Meier curve that starts at 0
 * @param until - age above 0, not beyond the last step unless the curve has come to 0
 * @param level - confidence level, 0 < level < 1
 * @returns an age in the unit of the curve, with its standard error and limits
 * @throws RangeError if `until` lies beyond the curve or the level is out of range
 * @see Klein & Moeschberger, Survival Analysis, ch. 4
 * @example restrictedMean(steps, 8760, 0.95);
 */
export function restrictedMean(steps: CurveStep[], until: number, level: number): RestrictedMean {
  const last = steps.at(-1);
  if (!(until > 0) || last === undefined || (until > last.time && last.survival > 0)) {
    throw new RangeError(`Cannot take a restricted mean: the curve ends at ${last?.time ?? 0}, found ${until}`);
  }
  const z = normalHalfWidth(level);
  const used = steps.filter(({ time }) => time < until);
  let beyond = 0;
  let variance = 0;
  let to = until;
  for (let step = used.length - 1; step >= 0; step--) {
    const { time, survival, atRisk, failed } = used[step]!;
    beyond += (to - time) * survival;
    if (failed > 0 && atRisk > failed) variance += (beyond * beyond * failed) / (atRisk * (atRisk - failed));
    to = time;
  }
  const estimate = beyond + to;
  const se = Math.sqrt(variance);
  return { estimate, se, low: Math.max(0, estimate - z * se), high: Math.min(until, estimate + z * se) };
}

import type { RootProfile } from "../fit/profile-end.ts";
import { normalHalfWidth } from "../level.ts";
import type { ConvergedWeibull } from "../weibull/fit.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { logLikelihood } from "../weibull/log-likelihood.ts";
import { type ConvergedCommonShape, commonShapeOf } from "./common-shape.ts";
import { type Group, gatherGroup } from "./gather-groups.ts";
import { maximiseShape } from "./maximise-shape.ts";
import { mergeLives } from "./merge-lives.ts";
import { aroundLog, type QuantileRatio, type RatioQuestion } from "./quantile-ratio.ts";
import { ratioInterval } from "./ratio-interval.ts";

/**
 * How many times as long one group lasts as another when all groups have one shape: the same at every fraction failed,
 * the ratio of their scales. The other groups help to tell the shape. A group needs one failure.
 * @param groups - lives of each group, all in one unit
 * @param above - index of the group in the numerator
 * @param below - index of the other
 * @param question - level and method of the limits
 * @returns the ratio, no unit, with limits; or why there is none
 * @throws RangeError for columns that are not lives, an index without a group, or a level outside its range
 * @see Lawless, Statistical Models and Methods for Lifetime Data, ch. 5 and 6
 * @example commonShapeRatio([saltmere, ostrel, vennick], 0, 1, { level: 0.95, method: "profile" });
 */
export function commonShapeRatio(
  groups: Group[],
  above: number,
  below: number,
  { level, method }: Omit<RatioQuestion, "p">,
): QuantileRatio {
  const gathered = groups.map(gatherGroup);
  const fit = commonShapeOf(gathered);
  if (!fit.converged) return { found: false, reason: fit.reason };
  const [first, second] = [fit.groups[above], fit.groups[below]];
  if (first === undefined || second === undefined || above === below) {
    throw new RangeError(`Cannot take a ratio of groups ${above} and ${below}: there are ${groups.length} groups`);
  }
  if (!first.converged) return { found: false, reason: `in the first group ${first.reason}` };
  if (!second.converged) return { found: false, reason: `in the second group ${second.reason}` };
  const logError = ratioError(first, second);
  const middle = Math.log(first.scale) - Math.log(second.scale);
  if (method === "wald") return { found: true, ratio: aroundLog(middle, normalHalfWidth(level) * logError), logError };
  const lives = gathered.flatMap((group, at) =>
    group.usable && at !== above && at !== below && fit.groups[at]?.converged ? [group.lives] : [],
  );
  const [upper, lower] = [gathered[above], gathered[below]];
  if (!(upper?.usable && lower?.usable)) throw new TypeError("Cannot take a ratio: a group that was fitted is gone");
  const profile = scaleProfile({ upper: upper.lives, lower: lower.lives, others: lives }, fit, middle, logError);
  return { found: true, ratio: ratioInterval(profile, level), logError };
}

/** Two log scales have their own parts, and one that follows the log shape. */
function ratioError(first: ConvergedWeibull, second: ConvergedWeibull): number {
  const [[vFirst, acrossFirst], [, vShape]] = first.covariance;
  const [[vSecond, acrossSecond]] = second.covariance;
  return Math.sqrt(vFirst + vSecond - (2 * acrossFirst * acrossSecond) / vShape);
}

type Compared = { upper: GatheredLives; lower: GatheredLives; others: GatheredLives[] };

/**
 * With the log ratio r held, the first group's ages divided by exp(r) and the second's are of one distribution.
 * By r the log-likelihood changes as the first group's does by its level, -shape times.
 */
function scaleProfile(
  { upper, lower, others }: Compared,
  fit: ConvergedCommonShape,
  middle: number,
  error: number,
): RootProfile {
  return {
    middle,
    error,
    walk: () => {
      let start = fit.shape;
      return (ratio) => {
        const merged = mergeLives([upper, lower], [ratio, 0]);
        const maximum = maximiseShape([merged, ...others], start);
        if (!maximum.found) return null;
        const { shape, groups, value } = maximum.at;
        start = shape;
        const level = (groups[0]?.level ?? 0) + shape * (upper.typicalLog - ratio - merged.typicalLog);
        const { l } = logLikelihood(upper, { level, shape });
        const missing = fit.logLikelihood - (value - upper.exact * ratio);
        const root = Math.sqrt(Math.max(0, 2 * missing));
        return { root, slope: (shape * l) / root };
      };
    },
  };
}

import { familyOf } from "../distribution/families.ts";
import type { Interval, Quantity } from "../fit/quantity.ts";
import { workingEstimate } from "../fit/working-estimate.ts";
import { normalHalfWidth } from "../level.ts";
import { fitWeibull } from "../weibull/fit.ts";
import { type Group, gatherGroup } from "./gather-groups.ts";
import { heldRatio } from "./held-ratio.ts";
import { ratioInterval } from "./ratio-interval.ts";

/** A ratio of two groups' quantiles with limits, or why there is none. */
export type QuantileRatio =
  | {
      found: true;
      ratio: Interval;
      /** Standard error of the log of the ratio, by the delta method. */
      logError: number;
    }
  | { found: false; reason: string };

/** What is asked of a ratio. */
export type RatioQuestion = {
  /** Fraction failed, 0 < p < 1: 0.1 compares L10. */
  p: number;
  /** Confidence level, 0 < level < 1. */
  level: number;
  /** `profile`: by the likelihood ratio, chi-square with 1 degree; `wald`: normal on the log scale. */
  method: "profile" | "wald";
};

/**
 * How many times as long one group lasts as another, by the age at which a fraction `p` has failed, each with its own shape.
 * @param above - lives of the group in the numerator
 * @param below - lives of the other, in the same unit
 * @param question - fraction failed, level and method of the limits
 * @returns the ratio, no unit, with limits; or why there is none
 * @throws RangeError for columns that are not lives, or a `p` or `level` outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 (intervals of functions of parameters)
 * @example quantileRatio(saltmere, ostrel, { p: 0.1, level: 0.95, method: "profile" });
 */
export function quantileRatio(above: Group, below: Group, { p, level, method }: RatioQuestion): QuantileRatio {
  const quantity: Quantity = { kind: "quantile", p };
  const [first, second] = [ownFit(above, "first"), ownFit(below, "second")];
  if ("reason" in first) return { found: false, reason: first.reason };
  if ("reason" in second) return { found: false, reason: second.reason };
  const [upper, lower] = [first, second].map(({ fit }) => workingEstimate(weibull, fit, quantity)) as [
    Working,
    Working,
  ];
  const logError = Math.hypot(upper.error, lower.error);
  const middle = upper.estimate - lower.estimate;
  if (method === "wald") return { found: true, ratio: aroundLog(middle, normalHalfWidth(level) * logError), logError };
  const profile = heldRatio(first, second, quantity, logError);
  return { found: true, ratio: ratioInterval(profile, level), logError };
}

type Working = { estimate: number; error: number };
const weibull = familyOf("weibull");

/** Limits `reach` to both sides on the log scale. */
export function aroundLog(middle: number, reach: number): Interval {
  return { estimate: Math.exp(middle), low: Math.exp(middle - reach), high: Math.exp(middle + reach) };
}

function ownFit(group: Group, which: string) {
  const gathered = gatherGroup(group);
  if (!gathered.usable) return { reason: `in the ${which} group ${gathered.reason}` };
  if (gathered.noOwnFit !== null) return { reason: `in the ${which} group ${gathered.noOwnFit}` };
  const fit = fitWeibull(gathered.lives);
  return fit.converged ? { lives: gathered.lives, fit } : { reason: `in the ${which} group ${fit.reason}` };
}

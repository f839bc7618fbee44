import { likelihoodCutOff } from "../level.ts";
import { constraintOf, type Point } from "./constraint.ts";
import type { ConvergedFit } from "./fit.ts";
import { profileAt } from "./profile.ts";
import { profileEnd, type RootProfile } from "./profile-end.ts";
import { fromWorkingScale, type Interval, isSurvival, type Quantity } from "./quantity.ts";
import type { Surface } from "./surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * Profile-likelihood interval: the values whose greatest log-likelihood lies within half the cut-off of the maximum.
 * Coverage is that of the chi-square approximation, too small with few failures; a calibrated cut-off can be given instead.
 * @param surface - the likelihood of the lives
 * @param fit - its maximum
 * @param quantity - what is asked for
 * @param level - confidence level, 0 < level < 1
 * @param cutOff - what twice the log-likelihood ratio may reach; the chi-square quantile with 1 degree where not given
 * @returns limits; one that does not exist, because the likelihood does not fall that far, is null, with the reason
 * @throws RangeError if `level`, the cut-off, or a number of the quantity lies outside its range, or the mean is infinite (`isInfinite` tells)
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example profileInterval(surface, fit, { kind: "quantile", p: 0.1 }, 0.95);
 */
export function profileInterval(
  surface: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  level: number,
  cutOff: number = likelihoodCutOff(level),
): Interval {
  if (!(cutOff > 0))
    throw new RangeError(`Cannot take a profile interval: the cut-off must be above 0, found ${cutOff}`);
  const working = workingEstimate(surface.family, fit, quantity);
  const profile = signedRootProfile(surface, fit, quantity, working);
  const ends = ([-1, 1] as const).map((side) => {
    const end = profileEnd(profile, side, Math.sqrt(cutOff));
    return end === null ? null : fromWorkingScale(quantity, end);
  });
  return withReason(fromWorkingScale(quantity, working.estimate), isSurvival(quantity) ? ends.reverse() : ends);
}

function withReason(estimate: number, [low = null, high = null]: (number | null)[]): Interval {
  const lacks = [low === null ? "lower" : "", high === null ? "upper" : ""]
    .filter((side) => side !== "")
    .join(" and no ");
  if (lacks === "") return { estimate, low, high };
  return {
    estimate,
    low,
    high,
    reason: `no ${lacks} limit: the likelihood stays within the cut-off as far out as the value can be taken`,
  };
}

function signedRootProfile(
  surface: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  { estimate, error }: { estimate: number; error: number },
): RootProfile {
  const constraint = constraintOf(quantity, surface);
  const best = { a: Math.log(fit.scale), e: Math.log(fit.shape) };
  const most = surface.at(best.a, best.e).value;
  return {
    middle: estimate,
    error,
    walk: () => {
      let at: Point = best;
      return (value) => {
        const found = profileAt(surface, constraint, value, at);
        if (found === null) return null;
        at = found.at;
        const root = Math.sqrt(Math.max(0, 2 * (most - found.value)));
        return { root, slope: -found.slope / root };
      };
    },
  };
}

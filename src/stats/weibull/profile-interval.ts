import { likelihoodCutOff } from "../level.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { type Constraint, constraintOf } from "./constraint.ts";
import type { ConvergedWeibull } from "./fit.ts";
import { type GatheredLives, gatherLives } from "./gathered-lives.ts";
import { logLikelihood } from "./log-likelihood.ts";
import { profileAt } from "./profile.ts";
import { profileEnd, type RootProfile } from "./profile-end.ts";
import { fromWorkingScale, type Interval, type Quantity, quantityOf, workingEstimate } from "./quantity.ts";
import { workingError } from "./working-error.ts";

/**
 * Profile-likelihood interval: the values whose greatest log-likelihood lies within half the cut-off of the maximum.
 * Coverage is that of the chi-square approximation, too small with few failures; a calibrated cut-off can be given instead.
 * @param fit - the maximum for the same lives
 * @param level - confidence level, 0 < level < 1
 * @param cutOff - what twice the log-likelihood ratio may reach; the chi-square quantile with 1 degree where not given
 * @returns limits; one that does not exist, because the likelihood never falls that far, is null, with the reason
 * @throws RangeError if `level`, or the quantity's `p` or `time`, lies outside its range, or the lives can't have a fit
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example profileInterval(lives, fit, { kind: "quantile", p: 0.1 }, 0.95);
 */
export function profileInterval(
  lives: Lives | IntervalLives | GatheredLives,
  fit: ConvergedWeibull,
  quantity: Quantity,
  level: number,
  cutOff: number = likelihoodCutOff(level),
): Interval {
  if (!(cutOff > 0))
    throw new RangeError(`Cannot take a profile interval: the cut-off must be above 0, found ${cutOff}`);
  const gathered = "typicalLog" in lives ? lives : gatherLives(lives);
  if ("refused" in gathered) throw new RangeError(`Cannot take a profile interval: ${gathered.refused}`);
  const estimate = quantityOf(quantity, fit.shape, fit.scale);
  const profile = signedRootProfile(gathered, fit, quantity);
  const [below, above] = ([-1, 1] as const).map((side) => profileEnd(profile, side, Math.sqrt(cutOff)));
  const ends = [below, above].map((end) =>
    end === null || end === undefined ? null : fromWorkingScale(quantity, end),
  );
  return withReason(estimate, quantity.kind === "survival" ? ends.reverse() : ends);
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
    reason: `no ${lacks} limit: the likelihood stays within the cut-off however far the value goes`,
  };
}

function signedRootProfile(lives: GatheredLives, fit: ConvergedWeibull, quantity: Quantity): RootProfile {
  const constraint: Constraint = constraintOf(quantity, lives.typicalLog);
  const best = { shape: fit.shape, level: fit.shape * (lives.typicalLog - Math.log(fit.scale)) };
  const most = logLikelihood(lives, best).value;
  return {
    middle: workingEstimate(quantity, fit.shape, fit.scale),
    error: workingError(fit, quantity),
    walk: () => {
      let free = constraint.free(best);
      return (value) => {
        const found = profileAt(lives, constraint, value, free);
        if (found === null) return null;
        free = found.free;
        const root = Math.sqrt(Math.max(0, 2 * (most - found.value)));
        return { root, slope: -found.slope / root };
      };
    },
  };
}

import { likelihoodCutOff } from "../level.ts";
import { constraintOf, type Point } from "./constraint.ts";
import type { ConvergedFit } from "./fit.ts";
import { profileAt } from "./profile.ts";
import { fromWorkingScale, type Interval, isSurvival, type Quantity } from "./quantity.ts";
import type { Surface } from "./surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/**
 * Profile-likelihood interval: the values whose greatest log-likelihood lies within half the cut-off of the maximum.
 * Coverage is that of the chi-square approximation, too small with few failures; a calibrated cut-off can be given instead.
 * @param surface - the likelihood of the lives
 * @param fit - its maximum
 * @param level - confidence level, 0 < level < 1
 * @param cutOff - what twice the log-likelihood ratio may reach; the chi-square quantile with 1 degree where not given
 * @returns limits; one that does not exist, because the likelihood never falls that far, is null, with the reason
 * @throws RangeError if `level`, the cut-off, or a number of the quantity lies outside its range
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
    reason: `no ${lacks} limit: the likelihood stays within the cut-off however far the value goes`,
  };
}

/** Root of twice the log-likelihood ratio at a value, and its derivative; both near linear in the value. */
type RootProfile = {
  middle: number;
  error: number;
  /** A fresh run outwards from the maximum, in which each profile starts where the last one ended. */
  walk(): (value: number) => { root: number; slope: number } | null;
};

function signedRootProfile(
  surface: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  { estimate, error }: { estimate: number; error: number },
): RootProfile {
  const constraint = constraintOf(quantity, surface.family);
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

const MOST_STEPS = 100;
/** Furthest from the estimate that a limit is looked for, on the log scale: a factor of 1e26. */
const FURTHEST = 60;
/** A limit is known when a step moves it by less than this, on the log scale. */
const SETTLED = 1e-11;

/**
 * The value on one side where the root reaches `wanted`: Newton from the normal-theory value, kept inside the bracket.
 * @returns null where the root stays below `wanted` out to the furthest value looked at
 */
function profileEnd({ middle, error, walk }: RootProfile, side: -1 | 1, wanted: number): number | null {
  const rootAt = walk();
  let inside = 0;
  let outside = Number.POSITIVE_INFINITY;
  let reach = Math.min(wanted * error, FURTHEST);
  for (let step = 0; step < MOST_STEPS; step++) {
    const found = rootAt(middle + side * reach);
    const missing = found === null ? Number.NaN : wanted - found.root;
    const newton = found === null ? Number.NaN : reach + missing / (side * found.slope);
    if (missing > 0) inside = reach;
    else outside = reach;
    const next = nextReach(newton, inside, outside);
    if (next === null) return null;
    if (Math.abs(next - reach) < SETTLED * (1 + Math.abs(middle))) return middle + side * next;
    reach = next;
  }
  return middle + side * reach;
}

/** Newton's value where it lies in the bracket and not too far out, else the middle of the bracket or three times as far. */
function nextReach(newton: number, inside: number, outside: number): number | null {
  if (outside === Number.POSITIVE_INFINITY) {
    if (inside >= FURTHEST) return null;
    return Math.min(newton > inside && newton < 3 * inside ? newton : 3 * inside, FURTHEST);
  }
  return newton > inside && newton < outside ? newton : (inside + outside) / 2;
}

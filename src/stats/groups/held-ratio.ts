import { constraintOf, type Point } from "../fit/constraint.ts";
import { pointOf } from "../fit/fit.ts";
import { profileAt } from "../fit/profile.ts";
import type { RootProfile } from "../fit/profile-end.ts";
import type { Quantity } from "../fit/quantity.ts";
import { weibullSurface } from "../fit/weibull-surface.ts";
import { workingEstimate } from "../fit/working-estimate.ts";
import type { ConvergedWeibull } from "../weibull/fit.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";

type FittedGroup = { lives: GatheredLives; fit: ConvergedWeibull };

/**
 * Profile likelihood of the log ratio r of two groups' quantiles, both shapes free: the greatest sum of the groups' own
 * profiles at log quantiles x + r and x. Its derivative by r is that of the first profile at the best x.
 */
export function heldRatio(first: FittedGroup, second: FittedGroup, quantity: Quantity, error: number): RootProfile {
  const upper = quantileProfile(first, quantity);
  const lower = quantileProfile(second, quantity);
  const middle = upper.best - lower.best;
  const most = first.fit.logLikelihood + second.fit.logLikelihood;
  return {
    middle,
    error,
    walk: () => {
      const [atUpper, atLower] = [upper.walk(), lower.walk()];
      return (ratio) => {
        const found = bestShared(
          (x) => both(atUpper(x + ratio), atLower(x)),
          [lower.best, upper.best - ratio].sort((a, b) => a - b) as [number, number],
        );
        if (found === null) return null;
        const root = Math.sqrt(Math.max(0, 2 * (most - found.value)));
        return { root, slope: -found.upperSlope / root };
      };
    },
  };
}

type ProfileValue = { value: number; slope: number };

/** Greatest log-likelihood of one group with its log quantile held. */
function quantileProfile({ lives, fit }: FittedGroup, quantity: Quantity) {
  const surface = weibullSurface(lives);
  const constraint = constraintOf(quantity, surface);
  const best = pointOf(fit);
  return {
    best: workingEstimate(surface.family, fit, quantity).estimate,
    walk: () => {
      let near: Point = best;
      return (x: number): ProfileValue | null => {
        const found = profileAt(surface, constraint, x, near) ?? profileAt(surface, constraint, x, best);
        if (found !== null) near = found.at;
        return found;
      };
    },
  };
}

type SumValue = { value: number; slope: number; upperSlope: number };

function both(upper: ProfileValue | null, lower: ProfileValue | null): SumValue | null {
  if (upper === null || lower === null) return null;
  return { value: upper.value + lower.value, slope: upper.slope + lower.slope, upperSlope: upper.slope };
}

const MOST_STEPS = 200;
/** Parts of the bracket looked at first: far from the estimate the sum can have two tops. */
const PARTS = 8;
const SETTLED = 1e-9;

/** Greatest sum between the two groups' own best values, between which one profile rises and the other falls. */
function bestShared(sumAt: (x: number) => SumValue | null, [from, to]: [number, number]): SumValue | null {
  if (to - from < SETTLED) return sumAt(from);
  const looks = Array.from({ length: PARTS + 1 }, (_, part) => from + ((to - from) * part) / PARTS);
  const sums = looks.map(sumAt);
  let top = -1;
  for (let at = 0; at < sums.length; at++) {
    const value = sums[at]?.value ?? Number.NEGATIVE_INFINITY;
    if (value > (sums[top]?.value ?? Number.NEGATIVE_INFINITY)) top = at;
  }
  const peak = sums[top];
  if (peak === undefined || peak === null) return null;
  const side = peak.slope > 0 ? top + 1 : top - 1;
  const other = looks[side];
  if (other === undefined) return peak;
  return slopeRoot(sumAt, looks[top]!, peak, other);
}

/** Where the slope is 0 between a point and a neighbour beyond the top: false position with the Illinois rule. */
function slopeRoot(
  sumAt: (x: number) => SumValue | null,
  start: number,
  peak: SumValue,
  neighbour: number,
): SumValue | null {
  const beyond = sumAt(neighbour);
  if (beyond === null || Math.sign(beyond.slope) === Math.sign(peak.slope)) return peak;
  let [a, fa] = [start, peak.slope];
  let [b, fb] = [neighbour, beyond.slope];
  let found: SumValue | null = peak;
  for (let step = 0; step < MOST_STEPS && Math.abs(b - a) > SETTLED; step++) {
    const x = (a * fb - b * fa) / (fb - fa);
    found = sumAt(x);
    if (found === null || found.slope === 0 || Math.min(Math.abs(x - a), Math.abs(x - b)) < 1e-13) return found;
    if (Math.sign(found.slope) !== Math.sign(fb)) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [x, found.slope];
    if (Math.abs(found.slope) < SLOPE_SETTLED) return found;
  }
  return found;
}

/** A slope this small leaves the value of the top right to rounding. */
const SLOPE_SETTLED = 1e-9;

import { profileEnd, type RootProfile } from "../fit/profile-end.ts";
import type { Interval } from "../fit/quantity.ts";
import { climb, type RepairHill, type Top } from "./climb.ts";
import { rootOf } from "./degree-limits.ts";
import type { DegreeProfile } from "./degree-profile.ts";
import type { DegreeAndShape, RepairLikelihood } from "./repair-likelihood.ts";

/** A parameter of the Weibull first life on the log scale: how its profile is had, and where it stands at a point of the degree's profile. */
type LogParameter = {
  middle: number;
  error: number;
  /** The likelihood at a value, over what else is free; the start to climb from; and its derivative by the value. */
  at(value: number): {
    hill: RepairHill;
    held?: "shape";
    start(from: DegreeAndShape): DegreeAndShape;
    slope(top: Top): number;
  };
  of(point: DegreeAndShape): number;
};

/**
 * Profile-likelihood limits of shape and scale of the first life, over all degrees within [0, 1].
 * @param errors - standard errors of their logs, from which the search starts
 */
export function lawLimits(
  likelihood: RepairLikelihood,
  profile: DegreeProfile,
  errors: { logShape: number; logScale: number },
  cutOff: number,
): { shape: Interval; scale: Interval } {
  const scaleOf = (at: DegreeAndShape) => likelihood.bestLogScale(at, false).value;
  const shape: LogParameter = {
    middle: profile.top.at.e,
    error: errors.logShape,
    at: (value) => ({
      hill: likelihood.atBestScale.bind(likelihood),
      held: "shape",
      start: ({ q }) => ({ q, e: value }),
      slope: ({ slopes }) => slopes.e,
    }),
    of: ({ e }) => e,
  };
  const scale: LogParameter = {
    middle: scaleOf(profile.top.at),
    error: errors.logScale,
    at: (value) => ({
      hill: (at, byDegree) => likelihood.atScale(at, value, byDegree),
      start: (from) => from,
      slope: ({ at }) => likelihood.atScale(at, value, false).logScale,
    }),
    of: scaleOf,
  };
  return { shape: limitsOf(shape, profile, cutOff), scale: limitsOf(scale, profile, cutOff) };
}

function limitsOf(parameter: LogParameter, profile: DegreeProfile, cutOff: number): Interval {
  const walk = walker(parameter, profile);
  const [low, high] = ([-1, 1] as const).map((side) => {
    const end = profileEnd(walk, side, Math.sqrt(cutOff));
    return end === null ? null : Math.exp(end);
  });
  const interval = { estimate: Math.exp(parameter.middle), low: low ?? null, high: high ?? null };
  if (interval.low !== null && interval.high !== null) return interval;
  return { ...interval, reason: "the likelihood stays within the cut-off as far out as the value can be taken" };
}

/** Each value is climbed to from the better of two starts: where the last one ended, and the point of the degree's profile next to it. */
function walker(parameter: LogParameter, { points, top }: DegreeProfile): RootProfile {
  const ridge = points.map(({ at }) => ({ at, value: parameter.of(at) }));
  return {
    middle: parameter.middle,
    error: parameter.error,
    walk: () => {
      let last = top.at;
      return (value) => {
        const { hill, held, start, slope } = parameter.at(value);
        const beside = ridge.reduce((best, one) =>
          Math.abs(one.value - value) < Math.abs(best.value - value) ? one : best,
        );
        const [here, there] = [start(last), start(beside.at)];
        const found = climb(hill, hill(there, false).value > hill(here, false).value ? there : here, held);
        if (found === null) return null;
        last = found.at;
        const root = rootOf(found, top);
        return { root, slope: -slope(found) / root };
      };
    },
  };
}

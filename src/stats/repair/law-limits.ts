import { profileEnd } from "../fit/profile-end.ts";
import type { Interval } from "../fit/quantity.ts";
import { climb, type RepairHill, type Top } from "./climb.ts";
import { rootOf } from "./degree-limits.ts";
import type { DegreeProfile, ProfilePoint } from "./degree-profile.ts";
import type { DegreeAndShape, RepairLikelihood } from "./repair-likelihood.ts";

/** A parameter of the first life on the log scale. */
type LogParameter = {
  /** Its value, and its standard error at a degree held fixed, at a point of the degree's profile. */
  at(point: ProfilePoint): { value: number; error: number };
  /** The top of the likelihood where it has a value, and the derivative by it there; at the degree of the start, or over all degrees. */
  top(value: number, start: DegreeAndShape, isDegreeHeld: boolean): { top: Top; slope: number } | null;
};

/**
 * Profile-likelihood limits of shape and scale of the first life, over all degrees within [0, 1]. Where one of them is held the likelihood
 * may have several tops over the degree, so limits are first taken at each degree that agrees with the data, then followed outwards from
 * those degrees whose limits lie further out than their neighbours'.
 */
export function lawLimits(
  likelihood: RepairLikelihood,
  profile: DegreeProfile,
  cutOff: number,
): { shape: Interval; scale: Interval } {
  const wanted = Math.sqrt(cutOff);
  return {
    shape: limitsOf(logShape(likelihood), profile, wanted),
    scale: limitsOf(logScale(likelihood), profile, wanted),
  };
}

function logShape(likelihood: RepairLikelihood): LogParameter {
  const hill: RepairHill = (at, byDegree) => likelihood.atBestScale(at, byDegree);
  return {
    at: ({ at, slopes }) => ({ value: at.e, error: 1 / Math.sqrt(-slopes.ee) }),
    top: (value, { q }, isDegreeHeld) => {
      const at = { q, e: value };
      const top = isDegreeHeld ? { at, slopes: hill(at, false) } : climb(hill, at, "shape");
      return top === null ? null : { top, slope: top.slopes.e };
    },
  };
}

function logScale(likelihood: RepairLikelihood): LogParameter {
  return {
    at: ({ at, slopes }) => {
      const { value, e } = likelihood.bestLogScale(at, false);
      // At a shape the log scale has information failures * shape^2 of its own; the rest comes through its best value.
      const own = 1 / (likelihood.gaps.failures * Math.exp(at.e) ** 2);
      return { value, error: Math.sqrt(own - (e * e) / slopes.ee) };
    },
    top: (value, start, isDegreeHeld) => {
      const hill: RepairHill = (at, byDegree) => likelihood.atScale(at, value, byDegree);
      const top = climb(hill, start, isDegreeHeld ? "degree" : undefined);
      return top === null ? null : { top, slope: likelihood.atScale(top.at, value, false).logScale };
    },
  };
}

function limitsOf(parameter: LogParameter, profile: DegreeProfile, wanted: number): Interval {
  const estimate = Math.exp(parameter.at(profile.top).value);
  const [low, high] = ([-1, 1] as const).map((side) => limitOf(parameter, profile, side, wanted));
  const interval = { estimate, low: limitFrom(low), high: limitFrom(high) };
  if (interval.low !== null && interval.high !== null) return interval;
  return { ...interval, reason: "the likelihood stays within the cut-off as far out as the value can be taken" };
}

function limitFrom(log: number | null | undefined): number | null {
  const limit = Math.exp(log ?? Number.NaN);
  return limit > 0 && limit < Number.POSITIVE_INFINITY ? limit : null;
}

/** The furthest value on a side, null where there is no end to them. */
function limitOf(parameter: LogParameter, { points, top }: DegreeProfile, side: -1 | 1, wanted: number): number | null {
  const agreeing = points.filter((point) => rootOf(point, top) <= wanted);
  const ends: number[] = [];
  for (const point of agreeing) {
    const end = endAtDegree(parameter, point, top, side, wanted);
    if (end === null) return null;
    ends.push(side * end);
  }
  const isFurther = (end: number, at: number) => end >= (ends[at - 1] ?? end) && end >= (ends[at + 1] ?? end);
  const furthest = ends.map((end, at) =>
    isFurther(end, at) ? side * followed(parameter, agreeing[at]!.at, side * end, top, side, wanted) : end,
  );
  return side * Math.max(...furthest);
}

/** The limit with the degree held: the root is that of the fall from the top at this degree, which is near linear. */
function endAtDegree(
  parameter: LogParameter,
  point: ProfilePoint,
  top: Top,
  side: -1 | 1,
  wanted: number,
): number | null {
  const left = Math.sqrt(Math.max(0, wanted ** 2 - rootOf(point, top) ** 2));
  const { value: middle, error } = parameter.at(point);
  if (left < NONE_LEFT) return middle;
  const walk = () => {
    let start = point.at;
    return (value: number) => {
      const found = parameter.top(value, start, true);
      if (found === null) return null;
      start = found.top.at;
      const root = rootOf(found.top, point);
      return { root, slope: -found.slope / root };
    };
  };
  return profileEnd({ middle, error, walk }, side, left);
}

/** A root of the fall this small is rounding. */
const NONE_LEFT = 1e-5;

const MOST_STEPS = 50;
/** Largest step outwards, on the log scale. */
const LARGEST_STEP = 0.5;
/** A limit is known when a step moves it by less than this, on the log scale. */
const SETTLED = 1e-10;

/** From a limit at one degree to that over all degrees about it, by Newton; where that leads nowhere the former stands. */
function followed(
  parameter: LogParameter,
  from: DegreeAndShape,
  end: number,
  top: Top,
  side: -1 | 1,
  wanted: number,
): number {
  let value = end;
  let start = from;
  for (let step = 0; step < MOST_STEPS; step++) {
    const found = parameter.top(value, start, false);
    if (found === null) break;
    start = found.top.at;
    const root = rootOf(found.top, top);
    const missing = ((root - wanted) * root) / found.slope;
    const move = Math.min(Math.max(missing, -LARGEST_STEP), LARGEST_STEP);
    if (!Number.isFinite(move)) break;
    value += move;
    if (Math.abs(move) < SETTLED) return side * value > side * end ? value : end;
  }
  return end;
}

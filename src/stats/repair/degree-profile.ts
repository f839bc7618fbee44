import { climb, LEAST_DEGREE, type Top } from "./climb.ts";
import type { DegreeAndShape, RepairLikelihood } from "./repair-likelihood.ts";

/** The top of the likelihood at a degree held fixed. */
export type ProfilePoint = Top;

/** Greatest likelihood by degree, at degrees near enough to each other to show every rise. */
export type DegreeProfile = {
  /** By degree, from 0 to 1, the overall top among them. */
  points: ProfilePoint[];
  /** The overall top. Its degree is 0 or 1 exactly where it lies at a bound. */
  top: Top;
};

/** Of old units with many repairs small degrees matter most. */
const DEGREES = [0, 0.001, 0.002, 0.005, 0.01, 0.02, 0.035, 0.05, 0.075, 0.1, 0.125, 0.15, 0.175, 0.2, 0.25, 0.3];
for (let step = 7; step <= 20; step++) DEGREES.push(step / 20);

/** With a shape below 1 the likelihood rises infinitely steeply from degree 0, so its top may lie very near. */
const TINY_DEGREES = [1e-10, 1e-8, 1e-6, 1e-5, 1e-4];

/** Degrees this near to a bound are there. */
const AT_BOUND = 1e-9;

/** @returns null where at some degree no shape is best */
export function degreeProfile(likelihood: RepairLikelihood): DegreeProfile | null {
  const points = profilePoints(likelihood);
  if (points === null) return null;
  const tops = localTops(points).map((at) => climb(likelihood.atBestScale.bind(likelihood), at));
  if (tops.includes(null)) return null;
  const top = highest([points[0]!, points.at(-1)!, ...tops.filter((one) => one !== null).filter(isInside)]);
  if (!points.includes(top)) points.push(top);
  return { points: points.sort((a, b) => a.at.q - b.at.q), top };
}

/** From degree 1 down, each shape from the one before: at 1 the likelihood is that of the power-law process, with one top. */
function profilePoints(likelihood: RepairLikelihood): ProfilePoint[] | null {
  const points: ProfilePoint[] = [];
  let e = 0;
  const add = (q: number): boolean => {
    const point = profilePoint(likelihood, { q, e });
    if (point === null) return false;
    points.push(point);
    e = point.at.e;
    return true;
  };
  for (const q of DEGREES.toReversed()) if (!add(q)) return null;
  if (e < 0) for (const q of TINY_DEGREES) if (!add(q)) return null;
  return points.sort((a, b) => a.at.q - b.at.q);
}

/** Greatest likelihood over shape and scale at a degree, looked for from a shape; null where there is none. */
export function profilePoint(likelihood: RepairLikelihood, start: DegreeAndShape): ProfilePoint | null {
  return climb(likelihood.atBestScale.bind(likelihood), start, "degree");
}

function localTops(points: ProfilePoint[]): DegreeAndShape[] {
  const value = (at: number) => points[at]?.slopes.value ?? Number.NEGATIVE_INFINITY;
  return points.filter((_, at) => value(at) >= value(at - 1) && value(at) >= value(at + 1)).map(({ at }) => at);
}

function isInside({ at: { q } }: Top): boolean {
  return q > 2 * LEAST_DEGREE && q < 1 - AT_BOUND;
}

/** The first of the highest. */
function highest(tops: Top[]): Top {
  return tops.reduce((best, one) => (one.slopes.value > best.slopes.value ? one : best));
}

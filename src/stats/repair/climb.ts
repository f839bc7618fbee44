import type { DegreeAndShape, RepairSlopes } from "./repair-likelihood.ts";

/** A log-likelihood over degree and shape; derivatives by the degree are only wanted where `byDegree`. */
export type RepairHill = (at: DegreeAndShape, byDegree: boolean) => RepairSlopes;

/** A point of greatest likelihood. */
export type Top = { at: DegreeAndShape; slopes: RepairSlopes };

/** Degrees up to this one are as good as 0; the derivatives by the degree need not exist there, so they are taken here. */
export const LEAST_DEGREE = 1e-12;

const MOST_STEPS = 100;
/** A log shape beyond this, from 0, is running away: a factor of 1e6. */
const RUNAWAY = Math.log(1e6);
/** Newton steps shrink quadratically: after one this small, as a share of degree and shape, the next is at rounding. */
const SMALL_STEP = 1e-7;
/** Rounding in a likelihood, as a share of it: a whole step may seem to lose that much. */
const ROUNDING = 1e-12;
/** The degree falls by no more than this factor in a step. */
const LARGEST_FALL = 30;

/**
 * Top of the likelihood over 0 <= degree <= 1 and shape, by Newton steps that are halved until the likelihood rises.
 * @param held - what stays where it starts; a held degree may be any from 0 on
 * @returns null where the likelihood rises without end, or no top is found
 */
export function climb(hill: RepairHill, start: DegreeAndShape, held?: "degree" | "shape"): Top | null {
  const byDegree = held !== "degree";
  const from = byDegree ? { q: Math.min(Math.max(start.q, LEAST_DEGREE), 1), e: start.e } : start;
  let top = topAt(hill, from, byDegree);
  for (let count = 0; count < MOST_STEPS && isInReach(top); count++) {
    const step = stepFrom(top.at, top.slopes, held);
    if (isSmall(step, top.at)) {
      const last = topAt(hill, moved(top.at, step, 1), byDegree);
      return isInReach(last) ? last : null;
    }
    const next = uphill(hill, top, step, byDegree);
    if (next === null) return null;
    top = next;
  }
  return null;
}

function isInReach({ at, slopes }: Top): boolean {
  return Number.isFinite(slopes.value) && Math.abs(at.e) <= RUNAWAY;
}

function isSmall(step: DegreeAndShape, at: DegreeAndShape): boolean {
  return Math.abs(step.q) <= SMALL_STEP * at.q && Math.abs(step.e) < SMALL_STEP;
}

function topAt(hill: RepairHill, at: DegreeAndShape, byDegree: boolean): Top {
  return { at, slopes: hill(at, byDegree) };
}

function moved(at: DegreeAndShape, step: DegreeAndShape, part: number): DegreeAndShape {
  return { q: at.q + part * step.q, e: at.e + part * step.e };
}

function uphill(hill: RepairHill, from: Top, step: DegreeAndShape, byDegree: boolean): Top | null {
  const slack = ROUNDING * Math.abs(from.slopes.value);
  for (let part = 1; part > 1e-12; part /= 2) {
    const next = topAt(hill, moved(from.at, step, part), byDegree);
    if (next.slopes.value > from.slopes.value - (part < 1 ? 0 : slack)) return next;
  }
  return null;
}

/** Newton's step within the bounds; along each coordinate by itself where the curvature is not that of a hill. */
function stepFrom(at: DegreeAndShape, slopes: RepairSlopes, held?: "degree" | "shape"): DegreeAndShape {
  if (held === "degree" || isPressed(at, slopes)) {
    return { q: 0, e: held === "shape" ? 0 : shapeStep(slopes.e, slopes.ee) };
  }
  if (held === "shape") return { q: degreeStep(at, slopes.q / curvature(slopes.qq)), e: 0 };
  const determinant = slopes.qq * slopes.ee - slopes.qe ** 2;
  const isHill = slopes.qq < 0 && slopes.ee < 0 && determinant > 1e-9 * slopes.qq * slopes.ee;
  if (!isHill) {
    return { q: degreeStep(at, slopes.q / curvature(slopes.qq)), e: shapeStep(slopes.e, slopes.ee) };
  }
  const q = degreeStep(at, (slopes.qe * slopes.e - slopes.ee * slopes.q) / determinant);
  return { q, e: shapeStep(slopes.e + slopes.qe * q, slopes.ee) };
}

/** At a bound, and the likelihood rises beyond it. */
function isPressed({ q }: DegreeAndShape, slopes: RepairSlopes): boolean {
  return (q <= LEAST_DEGREE && slopes.q <= 0) || (q >= 1 && slopes.q >= 0);
}

function curvature(second: number): number {
  return Math.max(Math.abs(second), Number.MIN_VALUE);
}

function shapeStep(first: number, second: number): number {
  return Math.min(Math.max(first / curvature(second), -1), 1);
}

function degreeStep({ q }: DegreeAndShape, step: number): number {
  const least = Math.max(q / LARGEST_FALL, LEAST_DEGREE);
  return Math.min(Math.max(q + step, least), 1) - q;
}

import type { Constraint, Point } from "./constraint.ts";
import type { Surface } from "./surface.ts";

/** Greatest log-likelihood with a quantity held at a value, its derivative by that value, and where it lies. */
export type ProfilePoint = { value: number; slope: number; at: Point };

const MOST_STEPS = 100;
/** After a Newton step this small the likelihood it leads to is known to rounding without another pass over the lives. */
const SMALL_STEP = 1e-5;
const LONGEST_STEP = 1;

/**
 * Maximum along the curve of one value, looked for from `start`: Newton steps inside a bracket that the sign of the derivative closes.
 * The derivative of the maximum by the held value is the partial one (envelope theorem).
 * @returns null where no maximum is found
 */
export function profileAt(surface: Surface, constraint: Constraint, held: number, start: Point): ProfilePoint | null {
  if (!surface.family.fitsShape) return onlyPoint(surface, constraint, held, start);
  let free = constraint.free(start);
  let at = start;
  let lastGood = Number.NaN;
  const bracket = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  for (let pass = 0; pass < MOST_STEPS; pass++) {
    const place = placeOn(surface, constraint, held, free, at);
    if (place === null) {
      if (Number.isNaN(lastGood)) return null;
      free = (free + lastGood) / 2;
      continue;
    }
    at = place.at;
    const newton = place.second < 0 ? -place.first / place.second : Math.sign(place.first) * LONGEST_STEP;
    if (Math.abs(newton) < SMALL_STEP) {
      const end = constraint.point(held, free + newton, at) ?? at;
      return { value: place.value + (place.first * newton) / 2, slope: place.byValue, at: end };
    }
    lastGood = free;
    free = nextFree(free, newton, bracket);
  }
  return null;
}

type Place = { at: Point; value: number; first: number; second: number; byValue: number };

function placeOn(surface: Surface, constraint: Constraint, held: number, free: number, near: Point): Place | null {
  const at = constraint.point(held, free, near);
  if (at === null) return null;
  const likelihood = surface.at(at.a, at.e);
  const slopes = constraint.slopes(at, likelihood);
  return Number.isFinite(likelihood.value + slopes.first) ? { at, value: likelihood.value, ...slopes } : null;
}

/** Where the shape is not fitted the value leaves nothing free. */
function onlyPoint(surface: Surface, constraint: Constraint, held: number, start: Point): ProfilePoint | null {
  const place = placeOn(surface, constraint, held, 0, start);
  return place === null ? null : { value: place.value, slope: place.byValue, at: place.at };
}

/** Closes the bracket around the maximum, and takes Newton's step where it stays inside, else the middle. */
function nextFree(free: number, newton: number, bracket: { from: number; to: number }): number {
  if (newton > 0) bracket.from = free;
  else bracket.to = free;
  const next = free + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, newton));
  return next > bracket.from && next < bracket.to ? next : (bracket.from + bracket.to) / 2;
}

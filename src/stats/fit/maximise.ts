import type { Family } from "../distribution/family.ts";
import type { Point } from "./constraint.ts";
import type { Slopes } from "./slopes.ts";
import { steepest } from "./steepest.ts";
import type { Surface } from "./surface.ts";

export type Maximum =
  | { found: true; at: Point; likelihood: Slopes; iterations: number }
  | { found: false; reason: string };

const MOST_ITERATIONS = 200;
/** A log shape further than this from its start is running away: a factor of 1e6. */
const RUNAWAY = Math.log(1e6);
/** Newton steps shrink quadratically: after one this small, in e and in the place of a failure in its distribution, the next is at rounding. */
const SMALL_STEP = 1e-8;
/** Largest step in log scale and log shape. */
const STEP_LIMIT = { a: 5, e: 2 / 3 };

/**
 * Maximum of the likelihood by Newton steps on (log scale, log shape), halved until the likelihood rises. Where the curvature is not
 * that of a hill it is raised until it is, so that each step goes up.
 */
export function maximise(surface: Surface, start: Point): Maximum {
  let at = start;
  let likelihood = surface.at(at.a, at.e);
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    const steepness = steepnessOf(likelihood, surface);
    const step = newtonStep(likelihood, steepness, surface.family.fitsShape);
    if (!Number.isFinite(likelihood.value + step.a + step.e)) break;
    const small = Math.abs(step.a) * Math.max(steepness, 1) < SMALL_STEP && Math.abs(step.e) < SMALL_STEP;
    const next = small ? placeAt(surface, moved(at, step, 1)) : uphill(surface, at, step, likelihood.value);
    if (next === null) break;
    ({ at, likelihood } = next);
    if (small) return { found: true, at, likelihood, iterations };
    if (Math.abs(at.e - start.e) > RUNAWAY) break;
  }
  return { found: false, reason: whyNot(surface.family, at.e, start.e) };
}

const TOO_STEEP = "the failures lie so close together that this distribution can't be told from the lognormal";
const NO_SCALE = "the likelihood shows no maximum: the lives don't tell the scale";

function whyNot(family: Family, e: number, started: number): string {
  if (!family.fitsShape) return NO_SCALE;
  if (e > steepest(family) - 1) return TOO_STEEP;
  const growth = e - started;
  if (growth > 2) return "the likelihood keeps rising as the shape grows: no best shape exists";
  if (growth < -2) return "the likelihood keeps rising as the shape falls to 0: no best shape exists";
  return "the likelihood shows no clear maximum: shape and scale can't be told apart";
}

/** By how much more a failure moves in its distribution than the log scale: the shape, or of that order. */
function steepnessOf({ aa }: Slopes, { failures }: Surface): number {
  const steepness = Math.sqrt(Math.abs(aa) / failures);
  return steepness > 0 && steepness < Number.POSITIVE_INFINITY ? steepness : 1;
}

/** Reckoned in units of the steepness, so that the curvatures by a and by e are of one order. */
function newtonStep(slopes: Slopes, steepness: number, fitsShape: boolean): Point {
  const { e, ee } = slopes;
  const [a, aa, ae] = [slopes.a / steepness, slopes.aa / steepness ** 2, slopes.ae / steepness];
  if (!fitsShape) {
    const curvature = aa < 0 ? -aa : Math.max(Math.abs(aa), Number.MIN_VALUE);
    return { a: Math.max(-STEP_LIMIT.a, Math.min(STEP_LIMIT.a, a / curvature / steepness)), e: 0 };
  }
  const middle = (-aa - ee) / 2;
  const reach = Math.hypot((ee - aa) / 2, ae);
  const least = middle - reach;
  const most = Math.max(Math.abs(middle) + reach, Number.MIN_VALUE);
  const raised = least > 1e-12 * most ? 0 : 1e-3 * most - least;
  const [p, q] = [-aa + raised, -ee + raised];
  const determinant = p * q - ae * ae;
  const step = { a: (q * a + ae * e) / determinant / steepness, e: (p * e + ae * a) / determinant };
  const shorter = Math.min(1, STEP_LIMIT.a / Math.abs(step.a), STEP_LIMIT.e / Math.abs(step.e));
  return { a: step.a * shorter, e: step.e * shorter };
}

/** Rounding in a likelihood, as a share of it: a whole step may seem to lose that much. */
const ROUNDING = 1e-12;

type Place = { at: Point; likelihood: Slopes };

function placeAt(surface: Surface, at: Point): Place {
  return { at, likelihood: surface.at(at.a, at.e) };
}

function uphill(surface: Surface, at: Point, step: Point, value: number): Place | null {
  const slack = ROUNDING * Math.abs(value);
  for (let part = 1; part > 1e-12; part /= 2) {
    const next = placeAt(surface, moved(at, step, part));
    if (next.likelihood.value > value - (part < 1 ? 0 : slack)) return next;
  }
  return null;
}

function moved(at: Point, step: Point, part: number): Point {
  return { a: at.a + part * step.a, e: at.e + part * step.e };
}

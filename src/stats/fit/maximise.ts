import type { Family } from "../distribution/family.ts";
import type { Point } from "./constraint.ts";
import type { Slopes } from "./slopes.ts";
import { steepest } from "./steepest.ts";
import type { Surface } from "./surface.ts";
import { isSmall, newtonStep, steepnessOf } from "./uphill-step.ts";

export type Maximum =
  | { found: true; at: Point; likelihood: Slopes; iterations: number }
  | { found: false; reason: string };

const MOST_ITERATIONS = 200;
/** A log shape further than this from its start is running away: a factor of 1e6. */
const RUNAWAY = Math.log(1e6);
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
    const small = isSmall(step, steepness);
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

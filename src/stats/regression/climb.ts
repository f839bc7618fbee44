import type { CrossSums } from "./cross-sums.ts";
import type { LifeLikelihood } from "./life-likelihood.ts";
import { newtonStep } from "./newton-step.ts";

/** The top of a likelihood, or where and along which step it still rose when the search gave up. */
export type Climb =
  | { found: true; at: Float64Array; sums: CrossSums; iterations: number }
  | { found: false; at: Float64Array; step: Float64Array; start: Float64Array };

const MOST_ITERATIONS = 200;
/** A shape further than this factor from its start is running away. */
const RUNAWAY = 1e6;
/** Largest step in the shape, as a share of it. */
const SHAPE_STEP = 2 / 3;

/** Twice what the next step gains: from so little on it goes as far as numbers do, and need not be looked at. */
const SETTLED = 1e-18;
/** Below this gain rounding may be all that is left. */
const ROUNDED = 1e-13;
/**
 * Below this gain Newton steps to a top shrink quadratically. Where instead the gain falls by a steady factor step by step, what rises is a
 * tail that has no top: a coefficient runs away.
 */
const NEAR = 1e-6;
const STEADY = 0.1;
const STEADY_STEPS = 3;

/** Where a search stands, the step from there, and how the last ones went. */
type Place = {
  at: Float64Array;
  sums: CrossSums;
  step: Float64Array;
  gain: number;
  /** Gain of the step that led here. */
  last: number;
  /** How many steps in a row fell steadily. */
  steady: number;
};

/**
 * Maximum of a likelihood by Newton steps, halved until it rises.
 * @param sums - of the start, where they are known
 */
export function climb(
  likelihood: Pick<LifeLikelihood, "at">,
  start: Float64Array,
  fitsShape: boolean,
  sums: CrossSums = likelihood.at(start),
): Climb {
  let place = placeOf(start, sums, { gain: Number.POSITIVE_INFINITY, steady: 0 });
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    if (isTop(place)) return top(place, iterations);
    if (isLost(place) || (fitsShape && hasRunAway(place.at, start))) break;
    const next = uphill(likelihood, place, fitsShape);
    if (next === null && place.gain < NEAR) return top(place, iterations);
    if (next === null) break;
    place = next;
  }
  return { found: false, at: place.at, step: place.step, start };
}

function placeOf(at: Float64Array, sums: CrossSums, from: Pick<Place, "gain" | "steady">): Place {
  const { step, gain, raised } = newtonStep(sums);
  const falls = !raised && gain < NEAR && gain > STEADY * from.gain;
  return { at, sums, step, gain, last: from.gain, steady: falls ? from.steady + 1 : 0 };
}

function isTop({ gain, last }: Place): boolean {
  return gain < SETTLED || (gain < ROUNDED && gain > STEADY * last);
}

function isLost({ gain, sums, steady }: Place): boolean {
  return !Number.isFinite(gain + sums.value) || steady >= STEADY_STEPS;
}

function hasRunAway(at: Float64Array, start: Float64Array): boolean {
  return Math.abs(Math.log(at.at(-1)! / start.at(-1)!)) > Math.log(RUNAWAY);
}

function top({ at, step, sums, gain }: Place, iterations: number): Climb {
  return { found: true, at: moved(at, step, 1), sums: { ...sums, value: sums.value + gain / 2 }, iterations };
}

/** Rounding in a likelihood, as a share of it: a whole step may seem to lose that much. */
const ROUNDING = 1e-12;

function uphill(likelihood: Pick<LifeLikelihood, "at">, place: Place, fitsShape: boolean): Place | null {
  const { at, step } = place;
  const slack = ROUNDING * Math.abs(place.sums.value);
  const whole = fitsShape ? Math.min(1, (SHAPE_STEP * at.at(-1)!) / Math.abs(step.at(-1)!)) : 1;
  for (let part = 1; part > 1e-12; part /= 2) {
    const next = moved(at, step, part * whole);
    const sums = likelihood.at(next);
    if (sums.value > place.sums.value - (part < 1 ? 0 : slack)) return placeOf(next, sums, place);
  }
  return null;
}

function moved(at: Float64Array, step: Float64Array, part: number): Float64Array {
  return at.map((value, one) => value + part * step[one]!);
}

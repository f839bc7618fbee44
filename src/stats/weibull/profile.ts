import type { Constraint } from "./constraint.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import { logLikelihood } from "./log-likelihood.ts";

/** Greatest log-likelihood with a quantity held at a value, its derivative by that value, and where it lies on the curve. */
export type ProfilePoint = { value: number; slope: number; free: number };

const MOST_STEPS = 100;
/** After a Newton step this small the likelihood it leads to is known to rounding without another pass over the lives. */
const SMALL_STEP = 1e-5;
const LONGEST_STEP = 1;

/**
 * Maximum along the curve of one value, from the free number `start`: Newton steps inside a bracket that the sign of the
 * derivative closes. The derivative of the maximum by the held value is the partial one (envelope theorem).
 * @returns null where no maximum is found
 */
export function profileAt(
  lives: GatheredLives,
  constraint: Constraint,
  held: number,
  start: number,
): ProfilePoint | null {
  let free = start;
  let lastGood = Number.NaN;
  const bracket = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  for (let pass = 0; pass < MOST_STEPS; pass++) {
    const at = constraint.point(held, free);
    const likelihood = logLikelihood(lives, at);
    const { first, second, byValue } = constraint.slopes(held, at, likelihood);
    if (!Number.isFinite(likelihood.value + first)) {
      if (Number.isNaN(lastGood)) return null;
      free = (free + lastGood) / 2;
      continue;
    }
    const newton = second < 0 ? -first / second : Math.sign(first) * LONGEST_STEP;
    if (Math.abs(newton) < SMALL_STEP) {
      return { value: likelihood.value + (first * newton) / 2, slope: byValue, free: free + newton };
    }
    lastGood = free;
    free = nextFree(free, newton, bracket);
  }
  return null;
}

/** Closes the bracket around the maximum, and takes Newton's step where it stays inside, else the middle. */
function nextFree(free: number, newton: number, bracket: { from: number; to: number }): number {
  if (newton > 0) bracket.from = free;
  else bracket.to = free;
  const next = free + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, newton));
  return next > bracket.from && next < bracket.to ? next : (bracket.from + bracket.to) / 2;
}

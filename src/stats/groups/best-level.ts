import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type Likelihood, logLikelihood } from "../weibull/log-likelihood.ts";

/** A group at a shape: the level of greatest likelihood, and the likelihood there. */
export type AtShape = { level: number; likelihood: Likelihood };

/** Why a group has no best scale at any shape, or null where it has one. */
export function noScaleReason({ failures, weight, lowZ }: GatheredLives): string | null {
  if (failures === 0) return "there are no failures: no scale is too long for them";
  const run = weight.some((times) => times !== 0) || lowZ.some((low) => low !== Number.NEGATIVE_INFINITY);
  return run ? null : "all failures are only known to lie before an age: no scale is too short for them";
}

/**
 * Level of greatest likelihood at a shape, for lives that have one: in closed form where all failures are exact
 * (failures expected = failures seen), else by Newton steps; the likelihood is concave in the level.
 * @param start - a level near it; used where lives are interval-censored
 * @returns null where numbers run out
 */
export function bestLevel(lives: GatheredLives, shape: number, start: number): AtShape | null {
  const level = lives.highZ.length === 0 ? closedForm(lives, shape) : byNewton(lives, shape, start);
  if (level === null || !Number.isFinite(level)) return null;
  const likelihood = logLikelihood(lives, { level, shape });
  return Number.isFinite(likelihood.value) && likelihood.ll < 0 ? { level, likelihood } : null;
}

/** log(failures / sum of weight * exp(shape * z)); the largest exponent is taken out first, so that none overflows. */
function closedForm({ exact, z, weight }: GatheredLives, shape: number): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let term = 0; term < z.length; term++) largest = Math.max(largest, z[term]!);
  let sum = 0;
  for (let term = 0; term < z.length; term++) sum += weight[term]! * Math.exp(shape * (z[term]! - largest));
  return Math.log(exact / sum) - shape * largest;
}

const MOST_STEPS = 200;
const LONGEST_STEP = 3;
const SMALL_STEP = 1e-9;

function byNewton(lives: GatheredLives, shape: number, start: number): number | null {
  let level = start;
  const bracket = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  for (let step = 0; step < MOST_STEPS; step++) {
    const { l, ll } = logLikelihood(lives, { level, shape });
    if (Number.isNaN(l)) return null;
    if (l > 0) bracket.from = level;
    else bracket.to = level;
    const newton = ll < 0 && Number.isFinite(l) ? -l / ll : Math.sign(l) * LONGEST_STEP;
    const next = level + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, newton));
    if (Math.abs(next - level) < SMALL_STEP) return next;
    level = next > bracket.from && next < bracket.to ? next : (bracket.from + bracket.to) / 2;
  }
  return null;
}

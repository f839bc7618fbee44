import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type AtShape, bestLevel } from "./best-level.ts";

/** One shape for all groups and the best level of each. */
export type SharedShape = {
  shape: number;
  groups: AtShape[];
  /** Sum of the groups' log-likelihoods. */
  value: number;
  /** First and second derivative by log shape, the levels following along. */
  first: number;
  second: number;
};

export type SharedMaximum = { found: true; at: SharedShape; iterations: number } | { found: false; reason: string };

const MOST_ITERATIONS = 200;
/** Longest step of log shape. */
const LONGEST_STEP = 1;
/** Newton steps shrink quadratically: after one this small the next is at rounding. */
const SMALL_STEP = 1e-7;
/** A log shape further than this from its start is running away. */
const RUNAWAY = Math.log(1e6);

/**
 * Greatest likelihood with one shape for all groups, by Newton steps on log shape with each group's level at its best
 * (its derivatives: s, and ss - ls^2 / ll, summed over groups), halved until the likelihood rises.
 * @param groups - lives that have a best scale
 * @param start - a shape near the answer; found from the spread within groups where not given
 */
export function maximiseShape(groups: GatheredLives[], start: number = startingShape(groups)): SharedMaximum {
  let at = atShape(groups, start, null);
  let iterations = 0;
  while (at !== null && iterations < MOST_ITERATIONS && Math.abs(Math.log(at.shape / start)) <= RUNAWAY) {
    iterations++;
    const step = newtonStep(at);
    if (Math.abs(step) < SMALL_STEP) return atTop(atShape(groups, at.shape * Math.exp(step), at), iterations);
    const next = uphill(groups, at, step);
    if (next === null) break;
    at = next;
  }
  return { found: false, reason: whyNot(at === null ? 1 : at.shape / start) };
}

function atTop(at: SharedShape | null, iterations: number): SharedMaximum {
  return at !== null && at.second < 0 ? { found: true, at, iterations } : { found: false, reason: whyNot(1) };
}

function whyNot(growth: number): string {
  if (growth > 10) return "the likelihood keeps rising as the shape grows: no best shape exists";
  if (growth < 0.1) return "the likelihood keeps rising as the shape falls to 0: no best shape exists";
  return "the likelihood shows no clear maximum: no one shape is best";
}

/** From the standard deviation of log life within groups, 1.2825 / shape; 1 where they show none. */
function startingShape(groups: GatheredLives[]): number {
  const failures = groups.reduce((sum, group) => sum + group.failures, 0);
  const squares = groups.reduce((sum, group) => sum + group.failures * group.spread ** 2, 0);
  return squares > 0 ? Math.min(Math.max(1.2825 / Math.sqrt(squares / failures), 0.1), 1e4) : 1;
}

function atShape(groups: GatheredLives[], shape: number, before: SharedShape | null): SharedShape | null {
  const found: AtShape[] = [];
  let value = 0;
  let slope = 0;
  let curvature = 0;
  for (const [at, lives] of groups.entries()) {
    const best = bestLevel(lives, shape, before?.groups[at]?.level ?? 0);
    if (best === null) return null;
    const { s, ll, ls, ss } = best.likelihood;
    value += best.likelihood.value;
    slope += s;
    curvature += ss - (ls * ls) / ll;
    found.push(best);
  }
  return { shape, groups: found, value, first: shape * slope, second: shape * slope + shape * shape * curvature };
}

function newtonStep({ first, second }: SharedShape): number {
  const newton = second < 0 ? -first / second : Math.sign(first) * LONGEST_STEP;
  return Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, newton));
}

/** Rounding in a likelihood, as a share of it: a whole step may seem to lose that much. */
const ROUNDING = 1e-12;

function uphill(groups: GatheredLives[], at: SharedShape, step: number): SharedShape | null {
  for (let part = 1; part > 1e-12; part /= 2) {
    const next = atShape(groups, at.shape * Math.exp(part * step), at);
    if (next !== null && next.value > at.value - (part < 1 ? 0 : ROUNDING * Math.abs(at.value))) return next;
  }
  return null;
}

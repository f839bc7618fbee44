import type { GatheredLives } from "./gathered-lives.ts";
import { bestNear, hazardSeries, hazardSumsNear, isNear } from "./hazard-series.ts";
import { type LevelAndShape, type Likelihood, likelihoodBy, logLikelihood } from "./log-likelihood.ts";

export type Maximum =
  | { found: true; at: LevelAndShape; likelihood: Likelihood; iterations: number }
  | { found: false; reason: string };

const MOST_ITERATIONS = 200;
/** A shape further than this factor from its start is running away. */
const RUNAWAY = 1e6;
/** Newton steps shrink quadratically: after one this small the next is at rounding. */
const SMALL_STEP = 1e-7;
/** Largest relative change of shape, and change of level, in one step. */
const STEP_LIMIT = { shape: 2 / 3, level: 5 };

/**
 * Point of greatest likelihood.
 * @param near - where to look from; from the spread of the failures where not given
 */
export function maximise(lives: GatheredLives, near?: LevelAndShape): Maximum {
  const start = near ?? fromSample(lives);
  if (start !== null) return bySeries(lives, start) ?? climb(lives, start);
  const guess = startingPoint(lives);
  return (lives.z.length < SERIES_FROM ? null : bySeries(lives, guess)) ?? climb(lives, guess);
}

/** Terms of which a pass or two for a series takes less than the passes of a climb from a guess. */
const SERIES_FROM = 500;

/**
 * Maximum by Newton steps on (level, shape), halved until the likelihood rises. Where the curvature is not that of a hill (late entries can
 * do that) it is raised until it is, so each step goes up.
 */
function climb(lives: GatheredLives, start: LevelAndShape): Maximum {
  let at = start;
  let likelihood = logLikelihood(lives, at);
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    const step = newtonStep(likelihood, at.shape);
    const small = Math.abs(step.level) < SMALL_STEP && Math.abs(step.shape) < SMALL_STEP * at.shape;
    const next = small ? valued(lives, moved(at, step, 1)) : uphill(lives, at, step, likelihood.value);
    if (next === null) break;
    ({ at, likelihood } = next);
    if (small) return { found: true, at, likelihood, iterations };
    if (at.shape > start.shape * RUNAWAY || at.shape < start.shape / RUNAWAY) break;
  }
  return { found: false, reason: whyNot(at.shape / start.shape) };
}

/** Passes over all terms after which climbing is no longer. */
const MOST_SERIES = 3;

/** The maximum inside a series about a point near it, in a single pass over the terms where it is near enough; null where that can't be. */
function bySeries(lives: GatheredLives, start: LevelAndShape): Maximum | null {
  if (lives.highZ.length > 0) return null;
  let series = hazardSeries(lives, start);
  for (let iterations = 1; iterations <= MOST_SERIES; iterations++) {
    const at = bestNear(series, lives);
    if (at === null) return null;
    if (isNear(series, at)) {
      return { found: true, at, likelihood: likelihoodBy(hazardSumsNear(series, at), lives, at), iterations };
    }
    if (iterations < MOST_SERIES) series = hazardSeries(lives, at);
  }
  return null;
}

function whyNot(growth: number): string {
  if (growth > 10) return "the likelihood keeps rising as the shape grows: no best shape exists";
  if (growth < 0.1) return "the likelihood keeps rising as the shape falls to 0: no best shape exists";
  return "the likelihood shows no clear maximum: shape and scale can't be told apart";
}

/** Shape from the spread of log failure ages (sd of log life is 1.2825 / shape), level so that failures expected = failures seen. */
function startingPoint({ spread, failures, z, weight, highZ, intervalCount }: GatheredLives): LevelAndShape {
  const shape = spread > 0 ? Math.min(Math.max(1.2825 / spread, 0.1), 1e4) : 1;
  let hazard = 0;
  for (let term = 0; term < z.length; term++) hazard += weight[term]! * Math.exp(shape * z[term]!);
  for (let term = 0; term < highZ.length; term++) hazard += intervalCount[term]! * Math.exp(shape * highZ[term]!);
  const level = Math.log(failures / hazard);
  return { shape, level: Number.isFinite(level) ? level : 0 };
}

/** Newton step, in level and in shape itself, by curvatures scaled to (level, log shape). */
function newtonStep(likelihood: Likelihood, shape: number): LevelAndShape {
  const slope = [likelihood.l, shape * likelihood.s] as const;
  const across = -shape * likelihood.ls;
  let a = -likelihood.ll;
  let b = -(shape ** 2) * likelihood.ss;
  const middle = (a + b) / 2;
  const reach = Math.hypot((a - b) / 2, across);
  const least = middle - reach;
  const most = Math.max(Math.abs(middle) + reach, Number.MIN_VALUE);
  if (!(least > 1e-12 * most)) {
    a += 1e-3 * most - least;
    b += 1e-3 * most - least;
  }
  const determinant = a * b - across * across;
  const level = (b * slope[0] - across * slope[1]) / determinant;
  const logShape = (a * slope[1] - across * slope[0]) / determinant;
  const shorter = Math.min(1, STEP_LIMIT.level / Math.abs(level), STEP_LIMIT.shape / Math.abs(logShape));
  return { level: level * shorter, shape: shape * logShape * shorter };
}

/** Rounding in a likelihood, as a share of it: a whole step may seem to lose that much. */
const ROUNDING = 1e-12;

type Valued = { at: LevelAndShape; likelihood: Likelihood };

function uphill(lives: GatheredLives, at: LevelAndShape, step: LevelAndShape, value: number): Valued | null {
  const slack = ROUNDING * Math.abs(value);
  for (let part = 1; part > 1e-12; part /= 2) {
    const next = valued(lives, moved(at, step, part));
    if (next.likelihood.value > value - (part < 1 ? 0 : slack)) return next;
  }
  return null;
}

function valued(lives: GatheredLives, at: LevelAndShape): Valued {
  return { at, likelihood: logLikelihood(lives, at) };
}

function moved(at: LevelAndShape, step: LevelAndShape, part: number): LevelAndShape {
  return { level: at.level + part * step.level, shape: at.shape + part * step.shape };
}

/** Terms of which a sample is worth its own search: it ends so near that the whole then takes one pass. */
const SAMPLED_FROM = 100_000;
const SAMPLE = 20_000;

/** Where a sample of many terms, with the failures scaled to it, has its maximum; null where it has none, or terms are few. */
function fromSample(lives: GatheredLives): LevelAndShape | null {
  const { z, weight, highZ, lowZ, width, intervalCount } = lives;
  if (z.length + highZ.length < SAMPLED_FROM) return null;
  const gap = Math.floor((z.length + highZ.length) / SAMPLE);
  const some = (column: Float64Array) => {
    const picked = new Float64Array(Math.ceil(column.length / gap));
    for (let at = 0; at < picked.length; at++) picked[at] = column[at * gap]!;
    return picked;
  };
  const maximum = maximise({
    ...lives,
    failures: lives.failures / gap,
    exact: lives.exact / gap,
    exactSum: lives.exactSum / gap,
    z: some(z),
    weight: some(weight),
    highZ: some(highZ),
    lowZ: some(lowZ),
    width: some(width),
    intervalCount: some(intervalCount),
  });
  return maximum.found ? maximum.at : null;
}

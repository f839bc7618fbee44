import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "./gathered-lives.ts";

/**
 * A Weibull distribution as `level`, the log of the cumulative hazard at the typical age, and `shape`:
 * log H(t) = level + shape * z. In these two the log-likelihood of lives without late entry is concave, so it has one maximum at most.
 */
export type LevelAndShape = { level: number; shape: number };

/** Log-likelihood at a point with its first and second derivatives by `level` (l) and `shape` (s). */
export type Likelihood = { value: number; l: number; s: number; ll: number; ls: number; ss: number };

/** Sums over the terms of weight * cumulative hazard * z^k, k = 0, 1 and 2. */
export type HazardSums = { zero: number; one: number; two: number };

/**
 * Log-likelihood of ages themselves, no constant dropped, with derivatives.
 * Exact: log f(t); right-censored: -H(t); interval: log[exp(-H(low)) - exp(-H(high))]; late entry: +H(entry).
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 and 11
 */
export function logLikelihood(lives: GatheredLives, at: LevelAndShape): Likelihood {
  return likelihoodBy(hazardSums(lives, at), lives, at);
}

/** The same by hazard sums that are known. */
export function likelihoodBy(hazard: HazardSums, lives: GatheredLives, at: LevelAndShape): Likelihood {
  const sums = addIntervals(lives, at, exactLikelihood(hazard, lives, at));
  return Number.isNaN(sums.value) ? { ...sums, value: Number.NEGATIVE_INFINITY } : sums;
}

/** What a likelihood needs to know of exact failures beside the hazard sums of all lives. */
export type ExactFailures = Pick<GatheredLives, "typicalLog" | "exact" | "exactSum">;

/** The same of lives of which none failed within an interval. */
export function exactLikelihood(
  hazard: HazardSums,
  { typicalLog, exact, exactSum }: ExactFailures,
  { level, shape }: LevelAndShape,
): Likelihood {
  return {
    value: exact * (level + Math.log(shape) - typicalLog) + (shape - 1) * exactSum - hazard.zero,
    l: exact - hazard.zero,
    s: exact / shape + exactSum - hazard.one,
    ll: -hazard.zero,
    ls: -hazard.one,
    ss: -exact / shape ** 2 - hazard.two,
  };
}

function hazardSums({ z, weight }: GatheredLives, { level, shape }: LevelAndShape): HazardSums {
  let zero = 0;
  let one = 0;
  let two = 0;
  for (let term = 0; term < z.length; term++) {
    const position = z[term]!;
    const hazard = weight[term]! * expByTable(level + shape * position);
    zero += hazard;
    one += hazard * position;
    two += hazard * position * position;
  }
  return { zero, one, two };
}

/** Beyond this cumulative hazard a survival is 0 in double precision. */
const SURELY_FAILED = 745;
/** Below this, log(1 - exp(-d)) is log(d) - d/2 to the last digit. */
const TINY = 1e-8;

/**
 * Adds log[exp(-low) - exp(-high)] = -low + log(1 - exp(-d)), d = high - low, for cumulative hazards low and high.
 * All is written in d, its logarithm, and the ratios d'/d and d''/d, so that nothing cancels when the interval is narrow
 * and nothing overflows or vanishes when it lies far out.
 */
// biome-ignore lint/complexity/noExcessiveCognitiveComplexity: numeric kernel, one pass with all sums in locals
function addIntervals(
  { lowZ, highZ, width, intervalCount }: GatheredLives,
  { level, shape }: LevelAndShape,
  exact: Likelihood,
): Likelihood {
  if (highZ.length === 0) return exact;
  let { value, l, s, ll, ls, ss } = exact;
  for (let term = 0; term < highZ.length; term++) {
    const count = intervalCount[term]!;
    const to = highZ[term]!;
    const left = lowZ[term] === Number.NEGATIVE_INFINITY;
    const from = left ? 0 : lowZ[term]!;
    const low = left ? 0 : Math.exp(level + shape * from);
    const share = left ? 1 : -Math.expm1(-shape * width[term]!);
    const logD = level + shape * to + Math.log(share);
    const d = Math.exp(logD);
    const first = left ? to : from + width[term]! / share;
    const second = left ? to * to : from * from + (width[term]! / share) * (from + to);
    const odds = d > SURELY_FAILED ? 0 : d < TINY ? 1 - d / 2 : d / Math.expm1(d);
    const bend = odds === 0 ? 0 : odds * (d + odds);
    value += count * (-low + (d < TINY ? logD - d / 2 : Math.log(-Math.expm1(-d))));
    l += count * (-low + odds);
    s += count * (-low * from + odds * first);
    ll += count * (-low + odds - bend);
    ls += count * (-low * from + (odds - bend) * first);
    ss += count * (-low * from * from + odds * second - bend * first * first);
  }
  return { value, l, s, ll, ls, ss };
}

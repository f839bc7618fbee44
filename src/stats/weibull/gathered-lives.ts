import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { ageTerms } from "./age-terms.ts";
import { gatherPlain } from "./gather-plain.ts";
import { gatheredTerms } from "./gathered-terms.ts";
import { intervalTerms } from "./interval-terms.ts";
import { type Refusal, refusalOf } from "./refusal.ts";

/**
 * All that the Weibull likelihood needs of a set of lives: identical terms once, ages as z = log(age) - typicalLog,
 * which are of order 1 whatever the unit of the ages.
 */
export type GatheredLives = {
  /** Mean log age at failure. */
  typicalLog: number;
  /** Standard deviation of z over the failures. */
  spread: number;
  /** Failures of any kind: exact, left- and interval-censored. */
  failures: number;
  /** Exact failures. */
  exact: number;
  /** Their sum of z. */
  exactSum: number;
  /** z of each term weight * (cumulative hazard at z). */
  z: Float64Array;
  /** As long as `z`. */
  weight: Float64Array;
  /** Of each row of interval-censored lives, z of the low end; -Infinity where left-censored. The next three are as long. */
  lowZ: Float64Array;
  /** z of the high end. */
  highZ: Float64Array;
  /** log(high / low). */
  width: Float64Array;
  /** How many lives the row stands for. */
  intervalCount: Float64Array;
};

/**
 * Gathers lives for the Weibull functions, which take the result in place of the lives: worth it when several are called.
 * @param lives - the lives, all ages in one unit
 * @returns what was gathered, or why no fit is possible
 * @throws RangeError for columns that are not lives
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 (the likelihood)
 * @example const gathered = gatherLives(lives); if (!("refused" in gathered)) fitWeibull(gathered);
 */
export function gatherLives(lives: Lives | IntervalLives): GatheredLives | Refusal {
  const plain = "time" in lives ? gatherPlain(lives) : null;
  if (plain !== null) return plain;
  const columns = checkedLives(lives);
  return refusalOf(columns) ?? gatherTerms(columns);
}

/**
 * Gathers lives whether or not a fit of their own is possible: beside others they may still count.
 * Without failures the typical age is that of the ends, and the spread 0.
 */
export function gatherTerms(columns: IntervalLives): GatheredLives {
  return gatheredTerms(ageTerms(columns), intervalTerms(columns));
}

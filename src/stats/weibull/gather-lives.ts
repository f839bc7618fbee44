import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { ageTerms } from "./age-terms.ts";
import { gatherPlain } from "./gather-plain.ts";
import type { GatheredLives } from "./gathered-lives.ts";
import { gatheredTerms } from "./gathered-terms.ts";
import { intervalTerms } from "./interval-terms.ts";
import { type Refusal, refusalOf } from "./refusal.ts";

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

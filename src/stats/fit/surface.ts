import { checkedLives } from "../check-lives.ts";
import { familyOf } from "../distribution/families.ts";
import type { Family, FamilyName } from "../distribution/family.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { type GatheredLives, gatherLives } from "../weibull/gathered-lives.ts";
import { type Refusal, refusalOf } from "../weibull/refusal.ts";
import { familySurface } from "./family-surface.ts";
import { lifeTerms } from "./life-terms.ts";
import type { Slopes } from "./slopes.ts";
import { weibullSurface } from "./weibull-surface.ts";

/** The log-likelihood of a set of lives under a family, as a surface over (log scale, log shape). */
export type Surface = {
  family: Family;
  /** Mean log age at failure. */
  typicalLog: number;
  /** Failures of any kind. */
  failures: number;
  /** Standard deviation of the log ages at failure. */
  spread: number;
  /** The lives as the Weibull kernels take them. */
  gathered?: GatheredLives;
  /** Of the ages themselves, no constant dropped; -Infinity where the lives can't come from that distribution. */
  at(a: number, e: number): Slopes;
};

/**
 * Gathers lives under a family, so that identical terms are reckoned once.
 * @returns the surface, or why there can be no fit
 * @throws RangeError for columns that are not lives
 * @example surfaceOf(lives, "lognormal");
 */
export function surfaceOf(lives: Lives | IntervalLives, name: FamilyName): Surface | Refusal {
  if (name === "weibull") {
    const gathered = gatherLives(lives);
    return "refused" in gathered ? gathered : weibullSurface(gathered);
  }
  const family = familyOf(name);
  const columns = checkedLives(lives);
  return refusalOf(columns, family.fitsShape ? 2 : 1) ?? familySurface(lifeTerms(columns), family);
}

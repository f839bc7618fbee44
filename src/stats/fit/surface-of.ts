import { checkedLives } from "../check-lives.ts";
import { familyOf } from "../distribution/families.ts";
import type { FamilyName } from "../distribution/family.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { gatherLives } from "../weibull/gather-lives.ts";
import { type Refusal, refusalOf } from "../weibull/refusal.ts";
import { familySurface } from "./family-surface.ts";
import { lifeTerms } from "./life-terms.ts";
import type { Surface } from "./surface.ts";
import { weibullSurface } from "./weibull-surface.ts";

/**
 * Gathers lives under a family, so that identical terms are reckoned once.
 * @param lives - the lives, all ages in one unit
 * @param name - of the family
 * @returns the surface, or why there can be no fit
 * @throws RangeError for columns that are not lives
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 and 11
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

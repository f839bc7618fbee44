import { fitWeibull, type WeibullFit } from "../weibull/fit.ts";
import { type CauseLives, checkCauseLives } from "./cause-lives.ts";

/**
 * A Weibull distribution for each cause, lives that ended by another cause taken as still unfailed of this one then.
 * It describes lives as if the other causes were gone, so long as the causes do not depend on one another, which no data of
 * this kind can show. A cause that can't be fitted has its reason in place.
 * @param lives - exact or right-censored, each failure with its cause
 * @param causes - how many causes there are
 * @returns a fit for each cause, or why it has none
 * @throws RangeError for columns that are not lives with causes
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 15
 * @example causeWeibulls(lives, 2);
 */
export function causeWeibulls(lives: CauseLives, causes: number): WeibullFit[] {
  checkCauseLives(lives, causes);
  const { cause, ...others } = lives;
  return Array.from({ length: causes }, (_, of) => {
    const failed = Uint8Array.from(cause, (found) => (found === of ? 1 : 0));
    return fitWeibull({ ...others, failed });
  });
}

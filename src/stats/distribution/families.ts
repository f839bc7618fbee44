import { exponential } from "./exponential.ts";
import type { Family, FamilyName } from "./family.ts";
import { gamma } from "./gamma.ts";
import { logLogistic } from "./log-logistic.ts";
import { lognormal } from "./lognormal.ts";
import { weibull } from "./weibull.ts";

const FAMILIES: Record<FamilyName, Family> = { weibull, exponential, lognormal, "log-logistic": logLogistic, gamma };

/**
 * The family of a name.
 * @param name - of the family
 * @returns its log density, tails, quantiles and mean as functions of log age over scale and log shape
 * @throws RangeError for a name of none
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4 and 5
 * @example familyOf("weibull").quantile(0.1, 0).value; // -2.250367: L10 is 0.105361 of the scale at shape 1
 */
export function familyOf(name: FamilyName): Family {
  const family = FAMILIES[name];
  if (family === undefined)
    throw new RangeError(`Cannot take a family of distributions: there is none named "${name}"`);
  return family;
}

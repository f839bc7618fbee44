import { refuseUnlessPositive } from "../rating/positive.ts";
import { type Aim, errorsApart } from "./aim.ts";
import { logRatio } from "./compared.ts";
import { inWhole, type Whole } from "./whole.ts";

/** What a comparison has had so far. */
export type SoFar = {
  /** Above 0. */
  failures: number;
  /** Of the fitted log of the ratio: above 0. One that knows of clusters and covariates carries them into the answer. */
  standardError: number;
};

/**
 * How many more failures would show a ratio, if errors go on to fall with the root of the failures as so far:
 * D ((z(1 - alpha / 2) + z(power)) se / ln(ratio))^2 - D, at least 0, D being the failures so far.
 * @param soFar - failures so far, and the standard error that they gave
 * @param ratio - to be seen, on the scale of the standard error: above 0, not 1
 * @param aim - level and power
 * @returns further failures, unrounded and in whole ones; 0 where there are enough
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503, for the variance of a log ratio being as 1 / failures
 * @example failuresToSettle({ failures: 40, standardError: 0.2 }, 1.5); // { exact: 36.4, whole: 37 }
 */
export function failuresToSettle(soFar: SoFar, ratio: number, aim: Aim = {}): Whole {
  const { failures, standardError } = soFar;
  refuseUnlessPositive("tell what would settle it", {
    "failures so far": failures,
    "the standard error": standardError,
  });
  const needed = failures * ((errorsApart(aim) * standardError) / logRatio("ratio", ratio)) ** 2;
  return inWhole(Math.max(0, needed - failures));
}

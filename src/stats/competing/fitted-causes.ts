import type { ConvergedWeibull, WeibullFit } from "../weibull/fit.ts";

/** Why the causes can't be taken together: the first that has no distribution, from 0, and why it has none. */
export type CauseRefusal = { cause: number; reason: string };

/** The fits of all causes, or the first that failed. */
export function fittedCauses(fits: WeibullFit[]): ConvergedWeibull[] | CauseRefusal {
  const fitted: ConvergedWeibull[] = [];
  for (const [cause, fit] of fits.entries()) {
    if (!fit.converged) return { cause, reason: fit.reason };
    fitted.push(fit);
  }
  return fitted;
}

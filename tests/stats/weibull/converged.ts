import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { type ConvergedWeibull, fitWeibull } from "../../../src/stats/weibull/fit.ts";

/** The fit, or a failed test. */
export function converged(lives: Lives | IntervalLives): ConvergedWeibull {
  const fit = fitWeibull(lives);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return fit;
}

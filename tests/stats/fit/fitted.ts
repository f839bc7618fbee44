import type { Family, FamilyName } from "../../../src/stats/distribution/family.ts";
import { type ConvergedFit, fitSurface } from "../../../src/stats/fit/fit.ts";
import type { Surface } from "../../../src/stats/fit/surface.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";

export const FAMILIES: FamilyName[] = ["weibull", "exponential", "lognormal", "log-logistic", "gamma"];

/** Lives with what was fitted to them. */
export type Fitted = { lives: Lives | IntervalLives; family: Family; surface: Surface; fit: ConvergedFit };

/** The fit, or a failed test. */
export function fitted(lives: Lives | IntervalLives, name: FamilyName): Fitted {
  const surface = surfaceOf(lives, name);
  if ("refused" in surface) throw new Error(`the fit was refused: ${surface.refused}`);
  const fit = fitSurface(surface);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return { lives, family: surface.family, surface, fit };
}

/** Lives from words: `500+` is unfailed at 500, `1150x2` is two failures at 1150, `500+x10` ten unfailed. */
export function marked(text: string): Lives {
  const words = text
    .trim()
    .split(/\s+/)
    .flatMap((word) => {
      const [life = "", times = "1"] = word.split("x");
      return Array<string>(Number(times)).fill(life);
    });
  return {
    time: Float64Array.from(words, (word) => Number.parseFloat(word)),
    failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
  };
}

import type { FamilyName } from "../stats/distribution/family.ts";
import { type ConvergedFit, fitSurface } from "../stats/fit/fit.ts";
import { surfaceOf } from "../stats/fit/surface-of.ts";
import { andersonDarling } from "../stats/goodness/anderson-darling.ts";
import type { IntervalLives } from "../stats/lives.ts";
import { rankRegression } from "../stats/ranks/rank-regression.ts";
import { shapeBias } from "../stats/small-sample/shape-bias.ts";
import type { LifeGroup } from "./answer.ts";
import type { Alternative, FitChecks } from "./life-answer.ts";
import { DRAWS, type Law } from "./life-limits.ts";

/** From so many failures on other laws can be told apart, and a shape has next to no bias. */
const ENOUGH_FAILURES = 20;
/** Of the criterion: a smaller gain is within what chance brings. */
const CLEARLY = 4;
/** Over so many lives the checks would take longer than they tell. */
const MOST_LIVES = 20_000;

/** How well the law describes the lives. */
export function fitChecks(
  lives: IntervalLives,
  law: Law,
  { paper }: Pick<LifeGroup, "paper">,
  seed: number,
): FitChecks | null {
  const { fit } = law;
  if (!fit.converged || fit.distribution !== "weibull" || livesIn(lives) > MOST_LIVES) return null;
  const ranked = paper.filter(({ rank }) => rank !== null);
  const age = Float64Array.from(ranked, ({ time }) => time);
  const position = Float64Array.from(ranked, ({ fractionFailed }) => fractionFailed);
  const { statistic, pValue, draws, reason } = andersonDarling(lives, fit, { draws: DRAWS, seed });
  return {
    ageOnPosition: ranked.length < 2 ? null : rankRegression(age, position, "age on position"),
    positionOnAge: ranked.length < 2 ? null : rankRegression(age, position, "position on age"),
    andersonDarling: {
      statistic,
      p: pValue,
      draws: pValue === null ? null : draws,
      ...(reason === undefined ? {} : { reason }),
    },
    correctedShape: fit.failures < ENOUGH_FAILURES ? correctedShape(lives, fit, law) : null,
  };
}

/** By the median of drawn shapes, which exists however few the failures are. */
function correctedShape(lives: IntervalLives, fit: ConvergedFit, law: Law): FitChecks["correctedShape"] {
  const drawn = law.drawn();
  if (drawn === null) return null;
  const { raw, byMedian } = shapeBias(lives, fit, drawn);
  return byMedian.corrected === null ? null : { raw, corrected: byMedian.corrected, draws: drawn.length };
}

function livesIn({ low, count }: IntervalLives): number {
  return count === undefined ? low.length : count.reduce((sum, some) => sum + some, 0);
}

const OTHERS: FamilyName[] = ["weibull", "exponential", "lognormal", "log-logistic", "gamma"];

/** Other laws for the same lives, best first. */
export function alternatives(lives: IntervalLives, { fit }: Law): Alternative[] {
  if (!fit.converged || livesIn(lives) > MOST_LIVES) return [];
  const own = akaike(fit.logLikelihood, fit.failures, fit.distribution);
  return OTHERS.filter((distribution) => distribution !== fit.distribution)
    .map((distribution): Alternative => {
      const surface = surfaceOf(lives, distribution);
      const other = "refused" in surface ? { converged: false as const, reason: surface.refused } : fitSurface(surface);
      const none = { distribution, logLikelihood: null, aicc: null, gain: null, clearlyBetter: false };
      if (!other.converged) return { ...none, reason: other.reason };
      const aicc = akaike(other.logLikelihood, fit.failures, distribution);
      const gain = own === null || aicc === null ? null : own - aicc;
      const clearlyBetter = gain !== null && gain > CLEARLY && fit.failures >= ENOUGH_FAILURES;
      return { distribution, logLikelihood: other.logLikelihood, aicc, gain, clearlyBetter };
    })
    .sort((one, two) => (two.gain ?? Number.NEGATIVE_INFINITY) - (one.gain ?? Number.NEGATIVE_INFINITY));
}

/** Akaike's criterion with its small-sample term, in which the size is the number of failures; null where those are too few for it. */
function akaike(logLikelihood: number, failures: number, distribution: FamilyName): number | null {
  const free = distribution === "exponential" ? 1 : 2;
  if (failures <= free + 1) return null;
  return 2 * free - 2 * logLikelihood + (2 * free * (free + 1)) / (failures - free - 1);
}

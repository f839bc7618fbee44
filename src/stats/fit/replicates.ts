import type { FamilyName } from "../distribution/family.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { type Stream, streamOf } from "../random/stream.ts";
import { fitBySeries, fitGathered } from "../weibull/fit.ts";
import { type ConvergedFit, type Fit, fitSurface, pointOf } from "./fit.ts";
import { redrawer } from "./redraw.ts";
import { type RedrawPlan, redrawPlan } from "./redraw-plan.ts";
import { seriesSurface } from "./series-surface.ts";
import type { Surface } from "./surface.ts";
import { termsSurface } from "./terms-surface.ts";
import { weibullRedrawer } from "./weibull-redraw.ts";
import { weibullSurface } from "./weibull-surface.ts";

/** A set of lives drawn from a fit, with its own fit. */
export type Replicate = { surface: Surface; fit: ConvergedFit };

/** Sets of lives drawn from a fit. */
export type Replicates = {
  /** As many as were asked for. */
  list: Replicate[];
  /** Sets drawn again because they could not be fitted: fewer than two failures, or no maximum. */
  redrawn: number;
};

const MOST_REDRAWS = 50;

/** Lives that can be drawn and fitted a thousand times while someone waits: a term of a gamma likelihood takes fifty times a Weibull one. */
const MOST_LIVES: Record<FamilyName, number> = {
  weibull: 20_000,
  exponential: 5_000,
  lognormal: 2_000,
  "log-logistic": 2_000,
  gamma: 200,
};
const TOO_MANY = "with this law there are too many lives to draw a thousand times";

/**
 * Sets of lives drawn from a fit as the lives were watched, each with its fit: a parametric bootstrap. The number `n` of a seed is the
 * same whatever the number of draws.
 * @param lives - the lives of the fit
 * @param surface - their likelihood
 * @param fit - its maximum
 * @param options - how many sets to draw, and the seed: any whole number
 * @returns why there are none where they can't be drawn
 * @throws RangeError for columns that are not lives
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 9; Davison & Hinkley, Bootstrap Methods, ch. 3 (censoring)
 * @example replicates(lives, surface, fit, { draws: 999, seed: 1 });
 */
export function replicates(
  lives: Lives | IntervalLives,
  surface: Surface,
  fit: ConvergedFit,
  { draws, seed }: { draws: number; seed: number },
): Replicates | { reason: string } {
  const plan = redrawPlan(lives);
  if ("reason" in plan) return plan;
  if (plan.end.length > MOST_LIVES[surface.family.name]) return { reason: TOO_MANY };
  const draw = drawer(plan, surface, fit);
  const list: Replicate[] = [];
  let redrawn = 0;
  for (let number = 0; number < draws; number++) {
    const stream = streamOf(seed, number);
    for (let attempt = 0; attempt < MOST_REDRAWS; attempt++) {
      const replicate = fitted(draw(stream));
      if (replicate === null) {
        redrawn++;
        continue;
      }
      list.push(replicate);
      break;
    }
    if (list.length <= number) return { reason: "sets of lives drawn from the fit hold too few failures to be fitted" };
  }
  return { list, redrawn };
}

/** The likelihood of a set of lives drawn, and how it is fitted. */
type Drawn = { surface: Surface; fit: () => Fit };

/** Draws sets of lives; Weibull ones, of which the most are drawn, by the shortest way. */
function drawer(plan: RedrawPlan, { family, typicalLog }: Surface, near: ConvergedFit): (stream: Stream) => Drawn {
  if (family.name === "weibull" && plan.grid.length === 0 && plan.stopsAt === null) {
    const draw = weibullRedrawer(plan, pointOf(near), typicalLog);
    return (stream) => {
      const lives = draw(stream);
      const surface = seriesSurface(lives, () => weibullSurface(lives.gathered()));
      return { surface, fit: () => fitBySeries(lives, near.shape) ?? fitGathered(lives.gathered(), near) };
    };
  }
  const draw = redrawer(plan, family, pointOf(near));
  return (stream) => {
    const surface = termsSurface(draw(stream), family);
    return { surface, fit: () => fitSurface(surface, near) };
  };
}

function fitted({ surface, fit: fitIt }: Drawn): Replicate | null {
  const { fitsShape } = surface.family;
  if (surface.failures < (fitsShape ? 2 : 1) || (fitsShape && !(surface.spread > 0))) return null;
  const fit = fitIt();
  return fit.converged ? { surface, fit } : null;
}

import type { Interval } from "../fit/quantity.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type EffectDensity, type EffectPrior, effectDensity } from "./effect-density.ts";
import { type EffectIntegral, integrateEffects } from "./effect-integral.ts";
import { type GridDistribution, gridDistribution } from "./grid-distribution.ts";
import { type Mixture, mixedQuantile, rangeOf } from "./mixed-quantile.ts";
import { othersPrior } from "./others-prior.ts";
import { determinant, form, inverse, type Pair, type Symmetric } from "./pair.ts";
import type { SpreadCell } from "./spread-grid.ts";

/** A group's log scale and log shape given its lives and all others, mixed over the spreads. */
export type GroupPosterior = {
  /** Log scale at each log shape. */
  slices: { logScale: GridDistribution; v: number; weight: number }[];
  logShape: Mixture;
  /** Per pair of spreads: covariance of the effects without the group's own lives (null: nothing known) and with them. */
  spreads: { weight: number; before: Symmetric | null; after: Symmetric }[];
};

/** Slices of less than this share of their part's probability are left out. */
const LEAST_SHARE = 1e-4;

/** @returns null where the integral can't be had */
export function groupPosterior(
  lives: GatheredLives,
  group: number,
  cells: SpreadCell[],
  start: number,
): GroupPosterior | null {
  const found: GroupPosterior = { slices: [], logShape: [], spreads: [] };
  let top = start;
  for (const { at, weight, grid } of cells) {
    const prior = grid?.others[group] ?? othersPrior(at, group);
    const integral = addPart(found, effectDensity(lives, prior), top, weight);
    if (integral === null) return null;
    top = integral.top;
    found.spreads.push({ weight, before: covarianceOf(prior), after: centralMoments(integral.moments) });
  }
  return found;
}

/** Adds the effects given their prior, with a weight, to those of the group. */
function addPart(found: GroupPosterior, density: EffectDensity, start: number, weight: number): EffectIntegral | null {
  const slices: { v: number; logIntegral: number; logScale: GridDistribution }[] = [];
  let step = 0;
  const integral = integrateEffects(
    density,
    start,
    ({ v, logIntegral, start: from, step: gap, masses }, stepOfShape) => {
      slices.push({ v, logIntegral, logScale: gridDistribution(from, gap, masses) });
      step = stepOfShape;
    },
  );
  if (integral === null) return null;
  slices.sort((a, b) => a.v - b.v);
  const shares = slices.map(({ logIntegral }) => step * Math.exp(logIntegral - integral.logIntegral));
  found.logShape.push({ part: gridDistribution(slices[0]?.v ?? 0, step, shares), weight, shift: 0 });
  for (const [at, { v, logScale }] of slices.entries()) {
    if (shares[at]! >= LEAST_SHARE) found.slices.push({ logScale, v, weight: weight * shares[at]! });
  }
  return integral;
}

function covarianceOf({ precision }: EffectPrior): Symmetric | null {
  return determinant(precision) > 1e-9 ? inverse(precision) : null;
}

function centralMoments(moments: Float64Array): Symmetric {
  const [a, b] = [moments[5]!, moments[1]!];
  return [moments[10]! - a * a, moments[6]! - a * b, moments[2]! - b * b];
}

/** Log of the age by which the fraction p has failed is log scale + w / shape, w = log(-log(1 - p)); 0 for the scale itself. */
export function logAgeMixture({ slices }: GroupPosterior, w: number): Mixture {
  const total = slices.reduce((sum, { weight }) => sum + weight, 0);
  return slices.map(({ logScale, v, weight }) => ({
    part: logScale,
    weight: weight / total,
    shift: w * Math.exp(-v),
  }));
}

/** Median and equal-tailed limits of what a mixture is the log of. */
export function mixtureInterval(mixture: Mixture, level: number): Interval {
  const range = rangeOf(mixture);
  const at = (p: number) => Math.exp(mixedQuantile(mixture, p, range));
  return { estimate: at(0.5), low: at((1 - level) / 2), high: at((1 + level) / 2) };
}

/**
 * Share of the uncertainty about a log age (or, with `gradient` (0, 1), the log shape) that the group's own lives take away:
 * 1 - variance with them / variance without, averaged over the spreads. For normal data this is the weight of the own estimate.
 */
export function ownWeight({ spreads }: GroupPosterior, gradient: Pair): number {
  let share = 0;
  for (const { weight, before, after } of spreads) {
    share +=
      weight * (before === null ? 1 : Math.min(1, Math.max(0, 1 - form(after, gradient) / form(before, gradient))));
  }
  return share;
}

import { checkedLives } from "../check-lives.ts";
import type { ConvergedFit } from "../fit/fit.ts";
import type { Replicate } from "../fit/replicates.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { publishedShapeFactor } from "./published-shape-factor.ts";

/** A factor on the shape, and the shape with it; null where there is none, and `reason` says why. */
export type ShapeCorrection = { factor: number; corrected: number } | { factor: null; corrected: null; reason: string };

/** The shape of a fit, and what it is with its small-sample bias taken out. */
export type ShapeBias = {
  /** The shape as fitted. */
  raw: number;
  /** Right on average, by the mean of the shapes of drawn sets. */
  byMean: ShapeCorrection;
  /** As often too high as too low, by their median; it exists also where a mean does not. */
  byMedian: ShapeCorrection;
  /** Right on average, by the published factor for Weibull lives that all failed. */
  published: ShapeCorrection;
};

/**
 * Small-sample bias of the shape of greatest likelihood: raw, and corrected three ways. The drawn sets repeat fit and censoring; each has a
 * shape, and raw / (mean or median of them) is the factor. A shape from two failures has no finite mean, so where more than one drawn set in
 * a hundred holds no more there is no correction by the mean.
 * The scale is next to unbiased and is left alone; a corrected shape does not go with the fit's limits, which know the bias already where
 * they are calibrated.
 * @param lives - the lives of the fit
 * @param fit - of greatest likelihood for them
 * @param list - replicates of the fit, several hundred or more
 * @returns the shape and three corrections of it, each with its factor or the reason why there is none
 * @throws RangeError for columns that are not lives
 * @see D. R. Thoman, L. J. Bain and C. E. Antle, Inferences on the parameters of the Weibull distribution, Technometrics 11 (1969) 445-460
 * @example shapeBias(lives, fit, replicates(lives, surface, fit, { draws: 999, seed: 1 }).list).byMean;
 */
export function shapeBias(lives: Lives | IntervalLives, fit: ConvergedFit, list: readonly Replicate[]): ShapeBias {
  const raw = fit.shape;
  const shapes = Float64Array.from(list, (drawn) => drawn.fit.shape).sort();
  const none = drawnRefusal(fit, list);
  const mean = none ?? meanRefusal(list);
  return {
    raw,
    byMean: mean === null ? corrected(raw, raw / meanOf(shapes)) : refused(mean),
    byMedian: none === null ? corrected(raw, raw / medianOf(shapes)) : refused(none),
    published: publishedCorrection(lives, fit),
  };
}

function corrected(raw: number, factor: number): ShapeCorrection {
  return { factor, corrected: raw * factor };
}

function refused(reason: string): ShapeCorrection {
  return { factor: null, corrected: null, reason };
}

const FIXED = "the shape is not fitted";

function drawnRefusal({ distribution }: ConvergedFit, list: readonly Replicate[]): string | null {
  if (distribution === "exponential") return FIXED;
  return list.length === 0 ? "no sets were drawn" : null;
}

/** Share of drawn sets with two failures from which on their mean is not to be trusted. */
const MOST_BARE = 0.01;

function meanRefusal(list: readonly Replicate[]): string | null {
  const bare = list.filter(({ surface }) => surface.failures < 3).length;
  if (bare <= MOST_BARE * list.length) return null;
  return "sets drawn like these lives often hold two failures only, from which a shape has no average";
}

function meanOf(shapes: Float64Array): number {
  return shapes.reduce((sum, shape) => sum + shape, 0) / shapes.length;
}

function medianOf(sorted: Float64Array): number {
  const middle = sorted.length / 2;
  return (sorted[Math.ceil(middle) - 1]! + sorted[Math.floor(middle)]!) / 2;
}

function publishedCorrection(lives: Lives | IntervalLives, { distribution, shape }: ConvergedFit): ShapeCorrection {
  if (distribution === "exponential") return refused(FIXED);
  if (distribution !== "weibull") return refused("a factor is published for the Weibull distribution only");
  const size = completeSize(lives);
  if (size === null) return refused("a factor is published for lives that all failed at known ages only");
  if (!Number.isInteger(size) || size < 3) return refused("a factor is published for 3 lives and more only");
  return corrected(shape, publishedShapeFactor(size));
}

/** Number of lives where all failed at known ages and none came late; else null. */
function completeSize(lives: Lives | IntervalLives): number | null {
  const { low, high, entry, count } = checkedLives(lives);
  let size = 0;
  for (let life = 0; life < low.length; life++) {
    const times = count?.[life] ?? 1;
    if (times > 0 && (high[life] !== low[life] || (entry?.[life] ?? 0) > 0)) return null;
    size += times;
  }
  return size;
}

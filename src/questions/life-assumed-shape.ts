import { assumedShapeBounds } from "../stats/assumed-shape/bounds.ts";
import { familyOf } from "../stats/distribution/families.ts";
import type { ConvergedFit, Fit } from "../stats/fit/fit.ts";
import { lifeTerms } from "../stats/fit/life-terms.ts";
import { fromWorkingScale, type Quantity, quantityTerms } from "../stats/fit/quantity.ts";
import { termsSurface } from "../stats/fit/terms-surface.ts";
import type { IntervalLives } from "../stats/lives.ts";
import type { Estimate } from "./estimate.ts";
import type { AssumedShape } from "./life-answer.ts";
import type { Law } from "./life-limits.ts";

/** Weibull shapes by which a life is told where failures are too few to fit one: from no ageing to strong wear-out. */
const SHAPES = [1, 1.5, 2, 3];
/** By how much a shape taken as known may be off: a fifth of the scatter of fitted shapes at 25 failures. */
const AROUND = [0.75, 1, 1.25];

const weibull = familyOf("weibull");

/** The law with the shape taken as known: all uncertainty is that of the scale, by the chi-square distribution of the failures. */
export function assumedLaw(lives: IntervalLives, shape: number, level: number): Law {
  const bounds = assumedShapeBounds(lives, shape, { kind: "scale" }, { level, sides: 2 });
  const at = (quantity: Quantity, scale: number | null) => (scale === null ? null : figure(quantity, scale, shape));
  const estimate = (quantity: Quantity): Estimate => {
    if (quantity.kind === "shape") return { estimate: shape, low: null, high: null, reason: "taken as known" };
    const found = {
      estimate: at(quantity, bounds.estimate),
      low: at(quantity, bounds.low),
      high: at(quantity, bounds.high),
    };
    return bounds.reason === undefined ? found : { ...found, reason: bounds.reason };
  };
  return {
    fit: fitOf(lives, shape, bounds),
    family: weibull,
    used: {
      method: "chi-square",
      draws: null,
      redrawn: null,
      seed: null,
      clusters: null,
      clusteredBy: null,
      instead: null,
    },
    drawn: () => null,
    estimate,
    quickly: estimate,
  };
}

/** All but the shape rise with the scale. */
function figure(quantity: Quantity, scale: number, shape: number): number {
  return fromWorkingScale(quantity, quantityTerms(quantity, weibull, Math.log(scale), Math.log(shape))!.value);
}

function fitOf(
  lives: IntervalLives,
  shape: number,
  { estimate: scale, failures, reason }: { estimate: number | null; failures: number; reason?: string },
): Fit {
  if (scale === null)
    return { converged: false, reason: reason ?? "the shape taken as known allows no scale", failures };
  const { value } = termsSurface(lifeTerms(lives), weibull).at(Math.log(scale), Math.log(shape));
  const covariance: ConvergedFit["covariance"] = [
    [1 / (failures * shape * shape), 0],
    [0, 0],
  ];
  return {
    converged: true,
    distribution: "weibull",
    shape,
    scale,
    logLikelihood: value,
    covariance,
    iterations: 0,
    failures,
  };
}

/** Life by several shapes taken as known: around the one asked for, or where failures are too few to fit one. */
export function assumedShapes(
  lives: IntervalLives,
  { shape, level }: { shape?: number; level: number },
  failed: number,
): AssumedShape[] {
  if (lives.low.length === 0 || (shape === undefined && failed >= 2)) return [];
  const shapes = shape === undefined ? SHAPES : AROUND.map((factor) => factor * shape);
  return shapes.map((assumed) => {
    const { estimate } = assumedLaw(lives, assumed, level);
    return {
      shape: assumed,
      scale: estimate({ kind: "scale" }),
      l10: estimate({ kind: "quantile", p: 0.1 }),
      median: estimate({ kind: "quantile", p: 0.5 }),
    };
  });
}

import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { streamOf } from "../stats/random/stream.ts";
import { lifeRatio } from "../stats/regression/life-ratio.ts";
import { sampleQuantile } from "../stats/sample-quantile.ts";
import type { CompareAnswer, Form } from "./compare-answer.ts";
import type { EffectTerms } from "./compare-effect.ts";
import type { EffectFit } from "./compare-fit.ts";
import type { Estimate } from "./estimate.ts";

type Values = Extract<EffectTerms, { kind: "values" }>;

const CURVE_POINTS = 41;

/** Life over that at `middle`, at values evenly spread over those of the lives: outside them there is no curve. */
export function curveOf(terms: Values, fit: EffectFit, middle: number): CompareAnswer["curve"] {
  return grid(terms.values[0]!, terms.values.at(-1)!, CURVE_POINTS).map((x) => {
    const { estimate, low, high } = lifeRatio(fit.contrast(terms.weights(x, middle)));
    return { x, lifeRatio: estimate, low, high };
  });
}

const SEARCHED = 201;
const DRAWS = 999;
/** Values further out than these shares of the lives are too few to hold the best. */
const OUTER = 0.02;

/** The value of the longest life among those that lives have, with the middle of the best of curves drawn from what is known of it. */
export function bestValue(terms: Values, fit: EffectFit, level: number, seed: number): Estimate {
  const values = grid(sampleQuantile(terms.values, OUTER), sampleQuantile(terms.values, 1 - OUTER), SEARCHED);
  const weights = values.map((value) => terms.weights(value, values[0]!));
  const own = Float64Array.from(fit.effect);
  const hill = new CholeskyDecomposition(new Matrix(fit.covariance()));
  if (!hill.isPositiveDefinite()) return none("what is known of the curve is too little to draw others from it");
  const root = hill.lowerTriangularMatrix.to2DArray();
  const random = streamOf(seed, 0);
  const best = longestOf(values, weights);
  const drawn = Float64Array.from({ length: DRAWS }, () => {
    const noise = own.map(() => normalQuantile(Math.max(random.uniform(), Number.EPSILON), 0, 1));
    return best(own.map((number, at) => number + dot(root[at]!, noise)));
  }).sort();
  return {
    estimate: best(own),
    low: sampleQuantile(drawn, (1 - level) / 2),
    high: sampleQuantile(drawn, (1 + level) / 2),
  };
}

/** The value of the longest life by the columns' numbers, the first of several. */
function longestOf(values: readonly number[], weights: readonly number[][]): (numbers: Float64Array) => number {
  return (numbers) => {
    let [longest, found] = [Number.NEGATIVE_INFINITY, Number.NaN];
    for (let at = 0; at < values.length; at++) {
      const life = dot(weights[at]!, numbers);
      if (life > longest) [longest, found] = [life, values[at]!];
    }
    return found;
  };
}

function dot(one: readonly number[], other: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < one.length; at++) sum += one[at]! * other[at]!;
  return sum;
}

/**
 * The form of the curve between two ends: flat where the test finds nothing; best inside where life at both ends is credibly shorter than at
 * the best value; else rising or falling all the way, or curved.
 */
export function formOf(
  terms: Values,
  fit: EffectFit,
  best: number | null,
  ends: [number, number],
  level: number,
): Form {
  const { jackknifeP, p } = fit.test(terms.columns.map((_, at) => at));
  const chance = jackknifeP ?? p;
  if (chance === null || chance > 1 - level) return "flat";
  const [low, high] = [Math.max(ends[0], terms.values[0]!), Math.min(ends[1], terms.values.at(-1)!)];
  const shorter = (end: number) => best !== null && fit.contrast(terms.weights(end, best)).high < 0;
  if (terms.bends.length > 0 && best !== null && best > low && best < high && shorter(low) && shorter(high)) {
    return "best inside";
  }
  const along = grid(low, high, CURVE_POINTS).map((x) => fit.contrast(terms.weights(x, low)).estimate);
  const steps = along.slice(1).map((value, at) => value - along[at]!);
  if (steps.every((step) => step >= 0)) return "rising";
  return steps.every((step) => step <= 0) ? "falling" : "curved";
}

function grid(from: number, to: number, points: number): number[] {
  return Array.from({ length: points }, (_, at) => from + ((to - from) * at) / (points - 1));
}

function none(reason: string): Estimate {
  return { estimate: null, low: null, high: null, reason };
}

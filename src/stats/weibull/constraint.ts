import digamma from "@stdlib/math-base-special-digamma";
import logGamma from "@stdlib/math-base-special-gammaln";
import trigamma from "@stdlib/math-base-special-trigamma";
import type { LevelAndShape, Likelihood } from "./log-likelihood.ts";
import type { Quantity } from "./quantity.ts";

/**
 * The distributions that share one value of a quantity, as a curve in (level, shape) run through by one free number:
 * the level where the shape is held, else the log shape.
 */
export type Constraint = {
  /** The distribution on the curve of `value` (on the working scale) at `free`. */
  point(value: number, free: number): LevelAndShape;
  /** The free number of a distribution. */
  free(at: LevelAndShape): number;
  /** First and second derivative of the log-likelihood along the curve, and its derivative by `value` at a fixed free number. */
  slopes(value: number, at: LevelAndShape, likelihood: Likelihood): { first: number; second: number; byValue: number };
};

/** @param typicalLog - log of the age at which the level is taken */
export function constraintOf(quantity: Quantity, typicalLog: number): Constraint {
  switch (quantity.kind) {
    case "shape":
      return heldShape;
    case "scale":
      return heldLevel(heldQuantile(0, typicalLog));
    case "quantile":
      return heldLevel(heldQuantile(Math.log(-Math.log1p(-quantity.p)), typicalLog));
    case "survival":
      return heldLevel(heldSurvival(Math.log(quantity.time) - typicalLog));
    case "mean":
      return heldLevel(heldMean(typicalLog));
  }
}

const heldShape: Constraint = {
  point: (value, free) => ({ level: free, shape: Math.exp(value) }),
  free: ({ level }) => level,
  slopes: (_value, { shape }, { l, ll, s }) => ({ first: l, second: ll, byValue: shape * s }),
};

/** The level that gives a quantity its value at a shape, with its derivatives by the shape and by the value. */
type LevelAt = (value: number, shape: number) => { level: number; first: number; second: number; byValue: number };

function heldLevel(levelAt: LevelAt): Constraint {
  return {
    point: (value, free) => ({ level: levelAt(value, Math.exp(free)).level, shape: Math.exp(free) }),
    free: ({ shape }) => Math.log(shape),
    slopes: (value, { shape }, { l, s, ll, ls, ss }) => {
      const { first, second, byValue } = levelAt(value, shape);
      const byShape = s + l * first;
      const curvature = ss + 2 * ls * first + ll * first * first + l * second;
      return { first: shape * byShape, second: shape * byShape + shape * shape * curvature, byValue: l * byValue };
    },
  };
}

/** log t_p = typicalLog + (w - level) / shape with w = log(-log(1 - p)). */
function heldQuantile(w: number, typicalLog: number): LevelAt {
  return (value, shape) => ({
    level: w - shape * (value - typicalLog),
    first: typicalLog - value,
    second: 0,
    byValue: -shape,
  });
}

/** log(-log S(t)) = level + shape * z. */
function heldSurvival(z: number): LevelAt {
  return (value, shape) => ({ level: value - shape * z, first: -z, second: 0, byValue: 1 });
}

/** log mean = typicalLog - level / shape + log gamma(1 + y), y = 1 / shape. */
function heldMean(typicalLog: number): LevelAt {
  return (value, shape) => {
    const y = 1 / shape;
    const above = typicalLog - value + logGamma(1 + y);
    return {
      level: shape * above,
      first: above - y * digamma(1 + y),
      second: y * y * y * trigamma(1 + y),
      byValue: -shape,
    };
  };
}

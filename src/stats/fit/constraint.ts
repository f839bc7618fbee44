import type { Family } from "../distribution/family.ts";
import { type Quantity, quantityTerms } from "./quantity.ts";
import type { Slopes } from "./slopes.ts";
import { steepest } from "./steepest.ts";
import type { Surface } from "./surface.ts";

/** A distribution of a family: log scale and log shape. */
export type Point = { a: number; e: number };

/**
 * The distributions that share one value of a quantity, as a curve that one free number runs through: the log shape, or where that is
 * held the log scale about the typical log age, times the shape where that is below 1, which stays of order 1 however small the shape.
 */
export type Constraint = {
  /** The distribution on the curve of `value` (on the working scale) at `free`, looked for from `near`; null where there is none. */
  point(value: number, free: number, near: Point): Point | null;
  free(at: Point): number;
  /** First and second derivative of the log-likelihood along the curve, and its derivative by the value at a fixed free number. */
  slopes(at: Point, likelihood: Slopes): { first: number; second: number; byValue: number };
};

export function constraintOf(quantity: Quantity, { family, typicalLog }: OfSurface): Constraint {
  return quantity.kind === "shape" ? heldShape(typicalLog) : heldQuantity(quantity, family);
}

/** What a constraint needs to know of a surface. */
type OfSurface = Pick<Surface, "family" | "typicalLog">;

function heldShape(typicalLog: number): Constraint {
  return {
    point: (value, free) => ({ a: typicalLog + free / Math.min(Math.exp(value), 1), e: value }),
    free: ({ a, e }) => (a - typicalLog) * Math.min(Math.exp(e), 1),
    slopes: (at, { a, aa, e }) => {
      const shape = Math.min(Math.exp(at.e), 1);
      const carried = at.e < 0 ? (at.a - typicalLog) * a : 0;
      return { first: a / shape, second: aa / shape ** 2, byValue: e - carried };
    },
  };
}

/** The log scale that gives the quantity its value is solved for; its derivatives follow from those of the quantity. */
function heldQuantity(quantity: Quantity, family: Family): Constraint {
  return {
    point: (value, free, near) => {
      if (free > steepest(family)) return null;
      const a = scaleAt(quantity, family, value, free, near.a);
      return a === null ? null : { a, e: free };
    },
    free: ({ e }) => e,
    slopes: ({ a, e }, likelihood) => {
      const held = quantityTerms(quantity, family, a, e)!;
      const first = -held.e / held.a;
      const second = -(held.ee + 2 * held.ae * first + held.aa * first * first) / held.a;
      return {
        first: likelihood.a * first + likelihood.e,
        second: likelihood.aa * first * first + 2 * likelihood.ae * first + likelihood.ee + likelihood.a * second,
        byValue: likelihood.a / held.a,
      };
    },
  };
}

const MOST_STEPS = 100;
const LONGEST_STEP = 5;
const SETTLED = 4e-15;

/**
 * Newton on a quantity that rises or falls with the scale all the way; one step where the quantity is the log scale and something of
 * the shape. A log-logistic's hazard by log age stays below its shape: then there may be no such scale.
 */
function scaleAt(quantity: Quantity, family: Family, value: number, e: number, near: number): number | null {
  let a = near;
  const bracket = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  for (let step = 0; step < MOST_STEPS; step++) {
    const held = quantityTerms(quantity, family, a, e);
    const missing = held === null ? Number.NaN : (value - held.value) / held.a;
    if (held === null || !Number.isFinite(missing)) return null;
    if (held.aa === 0) return a + missing;
    const next = nextScale(a, missing, bracket);
    if (Math.abs(next - a) <= SETTLED * (1 + Math.abs(a))) return next;
    a = next;
  }
  return null;
}

function nextScale(a: number, missing: number, bracket: { from: number; to: number }): number {
  if (missing > 0) bracket.from = a;
  else bracket.to = a;
  const next = a + Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, missing));
  return next >= bracket.from && next <= bracket.to ? next : (bracket.from + bracket.to) / 2;
}

import { weibullMean } from "./mean.ts";
import { weibullQuantile } from "./quantile.ts";
import { weibullSurvival } from "./survival.ts";

/** What an interval is asked for: `p` is a fraction failed, 0 < p < 1; `time` an age above 0. */
export type Quantity =
  | { kind: "shape" }
  | { kind: "scale" }
  | { kind: "quantile"; p: number }
  | { kind: "mean" }
  | { kind: "survival"; time: number };

/** An estimate with its limits. A limit that does not exist is null, and `reason` says why. */
export type Interval = { estimate: number; low: number | null; high: number | null; reason?: string };

/**
 * The quantity of a Weibull distribution.
 * @throws RangeError if `p` or `time` lies outside its range
 * @example quantityOf({ kind: "quantile", p: 0.1 }, 1, 9000); // 948.24
 */
export function quantityOf(quantity: Quantity, shape: number, scale: number): number {
  switch (quantity.kind) {
    case "shape":
      return shape;
    case "scale":
      return scale;
    case "mean":
      return weibullMean(shape, scale);
    case "quantile":
      return weibullQuantile(checkedFraction(quantity.p), shape, scale);
    case "survival":
      return weibullSurvival(checkedAge(quantity.time), shape, scale);
  }
}

function checkedFraction(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`Cannot take an interval of a quantile: p must be in (0, 1), found ${p}`);
  return p;
}

function checkedAge(time: number): number {
  if (!(time > 0 && time < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take an interval of survival: the age must be above 0, found ${time}`);
  }
  return time;
}

/**
 * A quantity from the scale on which its intervals are taken, where its likelihood is nearest to normal:
 * log, and log(-log) for survival, on which a larger value is a smaller survival.
 */
export function fromWorkingScale(quantity: Quantity, value: number): number {
  return quantity.kind === "survival" ? Math.exp(-Math.exp(value)) : Math.exp(value);
}

/** The estimate on the working scale, without the loss that going through the estimate itself would bring. */
export function workingEstimate(quantity: Quantity, shape: number, scale: number): number {
  if (quantity.kind === "survival") return shape * Math.log(checkedAge(quantity.time) / scale);
  return Math.log(quantityOf(quantity, shape, scale));
}

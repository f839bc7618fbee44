import type { Family } from "../distribution/family.ts";
import { isExtremeValue, logHazardAt, logHazardBetween, powerLawValue } from "./log-hazard.ts";
import type { Slopes } from "./slopes.ts";

/** What an interval is asked for. `p` is a fraction failed, 0 < p < 1; `time`, `age` and `further` are above 0. */
export type Quantity =
  | { kind: "shape" }
  | { kind: "scale" }
  | { kind: "quantile"; p: number }
  | { kind: "mean" }
  | { kind: "survival"; time: number }
  /** Chance that a life unfailed at `age` is unfailed `further` later. */
  | { kind: "conditional"; age: number; further: number };

/** An estimate with its limits. A limit that does not exist is null, and `reason` says why. */
export type Interval = { estimate: number; low: number | null; high: number | null; reason?: string };

/** Whether a larger value on the working scale is a smaller value of the quantity: survivals are worked on as log(-log S). */
export function isSurvival(quantity: Quantity): boolean {
  return quantity.kind === "survival" || quantity.kind === "conditional";
}

/** A quantity from the scale on which its intervals are taken, where its likelihood is nearest to normal: log, and log(-log) for survivals. */
export function fromWorkingScale(quantity: Quantity, value: number): number {
  return isSurvival(quantity) ? Math.exp(-Math.exp(value)) : Math.exp(value);
}

/** @throws RangeError if a number of the quantity lies outside its range */
export function checkedQuantity(quantity: Quantity): Quantity {
  const wrong = Object.entries(quantity).find(
    ([key, value]) => typeof value === "number" && !(value > 0 && value < (key === "p" ? 1 : Number.POSITIVE_INFINITY)),
  );
  if (wrong === undefined) return quantity;
  const range = wrong[0] === "p" ? "in (0, 1)" : "above 0";
  const name = wrong[0] === "time" ? "the age" : wrong[0];
  throw new RangeError(
    `Cannot take an interval of ${quantity.kind}: ${name} must be ${range}, found ${String(wrong[1])}`,
  );
}

/** A quantity on its working scale at (a, e) = (log scale, log shape), with derivatives. */
export type QuantityTerms = Slopes;

/**
 * The quantity on its working scale.
 * @returns null where it is infinite
 */
export function quantityTerms(quantity: Quantity, family: Family, a: number, e: number): QuantityTerms | null {
  switch (quantity.kind) {
    case "shape":
      return { value: e, a: 0, e: 1, aa: 0, ae: 0, ee: 0 };
    case "scale":
      return { value: a, a: 1, e: 0, aa: 0, ae: 0, ee: 0 };
    case "quantile": {
      const curve = family.quantile(quantity.p, e);
      return { value: a + curve.value, a: 1, e: curve.e, aa: 0, ae: 0, ee: curve.ee };
    }
    case "mean": {
      const curve = family.logMean(e);
      return curve === null ? null : { value: a + curve.value, a: 1, e: curve.e, aa: 0, ae: 0, ee: curve.ee };
    }
    case "survival":
      return logHazardAt(family, Math.log(quantity.time) - a, e);
    case "conditional":
      return logHazardBetween(family, Math.log(quantity.age) - a, Math.log1p(quantity.further / quantity.age), e);
  }
}

/** The quantity on its working scale, without the derivatives; Infinity where it is infinite. */
export function workingValue(quantity: Quantity, family: Family, a: number, e: number): number {
  if (quantity.kind === "conditional" && isExtremeValue(family)) {
    const further = Math.log1p(quantity.further / quantity.age);
    return powerLawValue(family.fitsShape ? Math.exp(e) : 1, Math.log(quantity.age) - a, further);
  }
  return quantityTerms(quantity, family, a, e)?.value ?? Number.POSITIVE_INFINITY;
}

/**
 * The quantity of a distribution; Infinity for a mean that is.
 * @param quantity - what to take
 * @param family - of the distribution
 * @param distribution - its scale, in the unit of the ages, and its shape, both above 0
 * @returns an age in the unit of `scale`, or a shape or survival, which have none
 * @throws RangeError if a number of the quantity lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4 and 5
 * @example quantityOf({ kind: "quantile", p: 0.1 }, familyOf("weibull"), { scale: 9000, shape: 1 }); // 948.24
 */
export function quantityOf(
  quantity: Quantity,
  family: Family,
  { scale, shape }: { scale: number; shape: number },
): number {
  const terms = quantityTerms(checkedQuantity(quantity), family, Math.log(scale), Math.log(shape));
  return terms === null ? Number.POSITIVE_INFINITY : fromWorkingScale(quantity, terms.value);
}

/**
 * Whether the quantity is a mean, and the distribution has none.
 * @param quantity - what is asked for
 * @param family - of the distribution
 * @param distribution - its shape
 * @returns true for the mean of a log-logistic distribution of shape 1 or less
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4
 * @example isInfinite({ kind: "mean" }, familyOf("log-logistic"), { shape: 0.9 }); // true
 */
export function isInfinite({ kind }: Quantity, family: Family, { shape }: { shape: number }): boolean {
  return kind === "mean" && family.logMean(Math.log(shape)) === null;
}

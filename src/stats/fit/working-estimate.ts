import type { Family } from "../distribution/family.ts";
import type { ConvergedFit } from "./fit.ts";
import { checkedQuantity, type Quantity, quantityTerms } from "./quantity.ts";

/**
 * A quantity and its standard error on the working scale (log; log(-log) for survivals), by the delta method.
 * @throws RangeError if a number of the quantity lies outside its range, or the quantity is infinite
 */
export function workingEstimate(
  family: Family,
  { scale, shape, covariance }: Pick<ConvergedFit, "scale" | "shape" | "covariance">,
  quantity: Quantity,
): { estimate: number; error: number } {
  const terms = quantityTerms(checkedQuantity(quantity), family, Math.log(scale), Math.log(shape));
  if (terms === null) throw new RangeError(`Cannot take an interval of ${quantity.kind}: it is infinite`);
  const [[vScale, across], [, vShape]] = covariance;
  const { value, a, e } = terms;
  return { estimate: value, error: Math.sqrt(a * a * vScale + 2 * a * e * across + e * e * vShape) };
}

import digamma from "@stdlib/math-base-special-digamma";
import type { ConvergedWeibull } from "./fit.ts";
import type { Quantity } from "./quantity.ts";

/** Standard error of a quantity on its working scale (log; log(-log) for survival) by the delta method. */
export function workingError({ shape, scale, covariance }: ConvergedWeibull, quantity: Quantity): number {
  const [byScale, byShape] = slopes(quantity, shape, scale);
  const [[vScale, across], [, vShape]] = covariance;
  return Math.sqrt(byScale * byScale * vScale + 2 * byScale * byShape * across + byShape * byShape * vShape);
}

/** Derivatives of the quantity on its working scale by log scale and log shape. */
function slopes(quantity: Quantity, shape: number, scale: number): [number, number] {
  switch (quantity.kind) {
    case "shape":
      return [0, 1];
    case "scale":
      return [1, 0];
    case "quantile":
      return [1, -Math.log(-Math.log1p(-quantity.p)) / shape];
    case "mean":
      return [1, -digamma(1 + 1 / shape) / shape];
    case "survival":
      return [-shape, shape * Math.log(quantity.time / scale)];
  }
}

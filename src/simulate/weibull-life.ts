/**
 * The Weibull life that a uniform draw stands for: t = scale * (-ln u)^(1 / shape); hours where `scale` is in hours.
 * Written with exp and log alone, whose last digits don't differ between releases of the engine as those of the power function have.
 * @throws RangeError unless 0 < u < 1 and shape and scale are above 0
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 4
 * @example weibullLife(Math.exp(-1), 1.7, 9000); // 9000: at u = 1/e the life is the scale
 */
export function weibullLife(u: number, shape: number, scale: number): number {
  if (!(u > 0 && u < 1 && shape > 0 && scale > 0)) {
    throw new RangeError(`Cannot draw a Weibull life: found u ${u}, shape ${shape}, scale ${scale}`);
  }
  return scale * Math.exp(Math.log(-Math.log(u)) / shape);
}

import { Matrix } from "ml-matrix";
import type { StandardColumn } from "./standard-columns.ts";

/** Where a fit is carried from: standard columns, about which log age they stand, and whether the family has a shape. */
export type Standard = { columns: readonly StandardColumn[]; typicalLog: number; fitsShape: boolean };

/** Coefficients on log time, the intercept first, and log sigma, 0 where the family has no shape. */
export type TimeScale = { coefficients: Float64Array; logSigma: number };

/** From theta of the likelihood (level, standard columns, shape) to coefficients on log time. */
export function toTimeScale({ columns, typicalLog, fitsShape }: Standard, theta: Float64Array): TimeScale {
  const shape = fitsShape ? theta[columns.length + 1]! : 1;
  const coefficients = new Float64Array(columns.length + 1);
  coefficients[0] = typicalLog - theta[0]! / shape;
  for (const [one, { middle, reach }] of columns.entries()) {
    const own = -theta[one + 1]! / (reach * shape);
    coefficients[one + 1] = own;
    coefficients[0]! -= own * middle;
  }
  return { coefficients, logSigma: -Math.log(shape) };
}

/** The way back. */
export function fromTimeScale(
  { columns, typicalLog, fitsShape }: Standard,
  { coefficients, logSigma }: TimeScale,
): Float64Array {
  const shape = Math.exp(-logSigma);
  const theta = new Float64Array(columns.length + (fitsShape ? 2 : 1));
  let middle = coefficients[0]!;
  for (const [one, column] of columns.entries()) {
    theta[one + 1] = -coefficients[one + 1]! * column.reach * shape;
    middle += coefficients[one + 1]! * column.middle;
  }
  theta[0] = (typicalLog - middle) * shape;
  if (fitsShape) theta[columns.length + 1] = shape;
  return theta;
}

/** Derivatives of (coefficients, log sigma where the family has a shape) by theta: a row each. */
export function timeScaleSlopes({ columns, fitsShape }: Standard, theta: Float64Array): Matrix {
  const size = theta.length;
  const shape = fitsShape ? theta[size - 1]! : 1;
  const slopes = Matrix.zeros(size, size);
  slopes.set(0, 0, -1 / shape);
  let ofShape = theta[0]! / (shape * shape);
  for (const [one, { middle, reach }] of columns.entries()) {
    slopes.set(0, one + 1, middle / (reach * shape));
    slopes.set(one + 1, one + 1, -1 / (reach * shape));
    const own = theta[one + 1]! / (reach * shape * shape);
    if (fitsShape) slopes.set(one + 1, size - 1, own);
    ofShape -= own * middle;
  }
  if (!fitsShape) return slopes;
  slopes.set(0, size - 1, ofShape);
  slopes.set(size - 1, size - 1, -1 / shape);
  return slopes;
}

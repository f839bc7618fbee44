import type { IntervalLives, Lives } from "../lives.ts";
import { assumedShapeBounds, type BoundLevel, type Bounds, type ScaleQuantity } from "./bounds.ts";

/**
 * The same bounds under several shapes: how much hangs on the one assumed.
 * @param lives - as for `assumedShapeBounds`
 * @param shapes - each above 0
 * @param quantity - scale, quantile, mean or survival
 * @param confidence - level, and of how many sides
 * @returns a row for each shape, in their order
 * @throws RangeError as `assumedShapeBounds`
 * @see W. Nelson, Weibull analysis of reliability data with few or no failures, J. Quality Technology 17 (1985) 140-146
 * @example boundsByShape(lives, [1, 1.5, 2, 3], { kind: "quantile", p: 0.1 }, { level: 0.9, sides: 1 });
 */
export function boundsByShape(
  lives: Lives | IntervalLives,
  shapes: readonly number[],
  quantity: ScaleQuantity,
  confidence: BoundLevel,
): Bounds[] {
  return shapes.map((shape) => assumedShapeBounds(lives, shape, quantity, confidence));
}

import { chiSquareQuantile } from "../chi-square-quantile.ts";
import { familyOf } from "../distribution/families.ts";
import { type Quantity, quantityOf } from "../fit/quantity.ts";
import { checkedLevel } from "../level.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { type ShapedExposure, shapedExposure } from "./shaped-exposure.ts";

/** What bounds with an assumed shape can be asked for: all of a Weibull distribution but its shape. */
export type ScaleQuantity = Exclude<Quantity, { kind: "shape" }>;

/**
 * A confidence level: of each bound on its own (1 side), or of the interval between the two (2 sides, half of the rest left out beyond
 * each).
 */
export type BoundLevel = { level: number; sides: 1 | 2 };

/** An estimate and its bounds under the shape assumed. What does not exist is null, and `reason` says why. */
export type Bounds = {
  shape: number;
  failures: number;
  estimate: number | null;
  low: number | null;
  high: number | null;
  reason?: string;
};

/**
 * Estimate and bounds with the Weibull shape assumed, for few failures or none. t^shape is then exponential: with T the sum of
 * t^shape - entry^shape over all lives and r failures, scale = (T / r)^(1 / shape), its lower bound (2 T / chi-square(2 r + 2))^(1 / shape), its
 * upper bound (2 T / chi-square(2 r))^(1 / shape); other quantities follow from the scale. Without failures only the lower bound
 * exists, and has the whole level for itself also where two sides are asked for: (T / -ln(1 - level))^(1 / shape).
 * The bounds are no surer than the shape: see `boundsByShape`.
 * @param lives - exact or right-censored, with late entries and counts; interval-censored ones are refused with a reason
 * @param shape - assumed, above 0
 * @param quantity - scale, quantile, mean or survival
 * @param confidence - level, and of how many sides
 * @returns estimate and bounds, ages in the unit of the lives; what does not exist is null, with the reason
 * @throws RangeError for columns that are not lives, or a shape, level or number of the quantity outside its range
 * @see W. Nelson, Weibull analysis of reliability data with few or no failures, J. Quality Technology 17 (1985) 140-146
 * @example assumedShapeBounds(lives, 1.5, { kind: "quantile", p: 0.1 }, { level: 0.9, sides: 1 });
 */
export function assumedShapeBounds(
  lives: Lives | IntervalLives,
  shape: number,
  quantity: ScaleQuantity,
  confidence: BoundLevel,
): Bounds {
  if (!(shape > 0 && shape < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take bounds: the shape assumed must be above 0 and finite, found ${shape}`);
  }
  const tail = tailOf(confidence);
  quantityOf(quantity, weibull, { shape, scale: 1 }); // a number out of range is refused whatever the lives
  const exposure = shapedExposure(lives, shape);
  if ("refused" in exposure) {
    return { shape, failures: 0, estimate: null, low: null, high: null, reason: exposure.refused };
  }
  const { failures } = exposure;
  const at = (divisor: number) => quantityWithin(quantity, shape, exposure, divisor);
  if (failures === 0) {
    const low = at(-Math.log1p(-confidence.level));
    return { shape, failures, estimate: null, low, high: null, reason: NO_FAILURES };
  }
  const estimate = at(failures);
  const low = at(chiSquareQuantile(1 - tail, 2 * failures + 2) / 2);
  const high = at(chiSquareQuantile(tail, 2 * failures) / 2);
  const found = { shape, failures, estimate, low, high };
  return [estimate, low, high].includes(null) ? { ...found, reason: TOO_FAR } : found;
}

const weibull = familyOf("weibull");
const NO_FAILURES = "there are no failures: only a lower bound exists";
const TOO_FAR = "with so small a shape a value lies too far out to be told";

function tailOf({ level, sides }: BoundLevel): number {
  return (1 - checkedLevel(level)) / sides;
}

/** The quantity where scale = unit * (sum / divisor)^(1 / shape); null where that is no number above 0 and finite. */
function quantityWithin(
  quantity: ScaleQuantity,
  shape: number,
  { unit, sum }: ShapedExposure,
  divisor: number,
): number | null {
  const scale = unit * (sum / divisor) ** (1 / shape);
  if (!(scale > 0 && scale < Number.POSITIVE_INFINITY)) return null;
  const found = quantityOf(quantity, weibull, { shape, scale });
  return Number.isFinite(found) ? found : null;
}

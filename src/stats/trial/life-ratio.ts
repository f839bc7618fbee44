import { refuseUnlessPositive } from "../rating/positive.ts";

/**
 * Ratio of Weibull lives that a ratio of their hazards makes, and the other way round, for a common shape:
 * life ratio = hazard ratio^(-1 / shape).
 * @param hazardRatio - above 0
 * @param shape - Weibull shape of both, above 0
 * @returns a ratio of lives, above 0
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example lifeRatioOf(2, 1.5); // 0.62996
 */
export function lifeRatioOf(hazardRatio: number, shape: number): number {
  refuseUnlessPositive("turn a hazard ratio into a life ratio", {
    "the hazard ratio": hazardRatio,
    "the shape": shape,
  });
  return hazardRatio ** (-1 / shape);
}

/**
 * Ratio of hazards that a ratio of Weibull lives makes, for a common shape: life ratio^(-shape).
 * @param lifeRatio - above 0
 * @param shape - Weibull shape of both, above 0
 * @returns a ratio of hazards, above 0
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example hazardRatioOf(1.25, 2); // 0.64
 */
export function hazardRatioOf(lifeRatio: number, shape: number): number {
  refuseUnlessPositive("turn a life ratio into a hazard ratio", { "the life ratio": lifeRatio, "the shape": shape });
  return lifeRatio ** -shape;
}

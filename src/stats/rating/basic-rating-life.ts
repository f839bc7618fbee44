import { refuseUnlessPositive } from "./positive.ts";
import { LIFE_EXPONENT, type RollingElement } from "./rolling-element.ts";

/**
 * Basic rating life of a bearing: L10 = (C / P)^p million revolutions, p = 3 for balls and 10/3 for rollers. One bearing in ten
 * is to fail by fatigue before; wear, corrosion, damage and lubrication that fails are outside it.
 * @param loadRating - basic dynamic load rating C, kN
 * @param load - equivalent load P, kN
 * @param element - what rolls, which sets p
 * @returns million revolutions
 * @throws RangeError if a load is not above 0 and finite
 * @see ISO 281:2007, Rolling bearings: dynamic load ratings and rating life
 * @example basicRatingLife(81.9, 6.3, "ball"); // 2197
 */
export function basicRatingLife(loadRating: number, load: number, element: RollingElement): number {
  refuseUnlessPositive("take a rating life", { "the load rating": loadRating, "the equivalent load": load });
  return (loadRating / load) ** LIFE_EXPONENT[element];
}

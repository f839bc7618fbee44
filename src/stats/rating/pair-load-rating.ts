import { refuseUnlessPositive } from "./positive.ts";
import type { RollingElement } from "./rolling-element.ts";

const PAIR_EXPONENT: Record<RollingElement, number> = { ball: 0.7, roller: 7 / 9 };

/**
 * Basic dynamic load rating of two like bearings matched and mounted side by side, rated as one: 2^0.7 times the single one's for
 * balls, 2^(7/9) times for rollers. The load and its factors are then those of the pair.
 * @param single - basic dynamic load rating C of one bearing, kN
 * @param element - what rolls
 * @returns kN
 * @throws RangeError if the rating is not above 0 and finite
 * @see ISO 281:2007
 * @example pairLoadRating(81.9, "ball"); // 133.05
 */
export function pairLoadRating(single: number, element: RollingElement): number {
  refuseUnlessPositive("rate a matched pair", { "the load rating of one": single });
  return single * 2 ** PAIR_EXPONENT[element];
}

import { refuseUnlessPositive } from "./positive.ts";
import { LIFE_EXPONENT, type RollingElement } from "./rolling-element.ts";

/**
 * Basic dynamic load rating with which a bearing reaches a basic rating life: C = P * (60 * n * hours / 1e6)^(1 / p).
 * @param load - equivalent load P, kN
 * @param speed - r/min
 * @param hours - basic rating life wanted
 * @param element - what rolls, which sets p
 * @returns kN
 * @throws RangeError if an argument is not above 0 and finite
 * @see ISO 281:2007
 * @example neededLoadRating(6.3, 3550, 25_000, "ball"); // 110.0
 */
export function neededLoadRating(load: number, speed: number, hours: number, element: RollingElement): number {
  refuseUnlessPositive("find the load rating needed", {
    "the equivalent load": load,
    "the speed": speed,
    "the life": hours,
  });
  return load * ((60 * speed * hours) / 1e6) ** (1 / LIFE_EXPONENT[element]);
}

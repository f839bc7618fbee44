import { refuseUnlessPositive } from "./positive.ts";

/**
 * A life in revolutions as a life in hours at a constant speed: 1e6 * L / (60 * n).
 * @param millionRevolutions - above 0
 * @param speed - r/min, above 0
 * @returns hours
 * @throws RangeError if an argument is not above 0 and finite
 * @see ISO 281:2007
 * @example hoursOfRevolutions(2197, 3550); // 10314.6
 */
export function hoursOfRevolutions(millionRevolutions: number, speed: number): number {
  refuseUnlessPositive("turn revolutions into hours", { "the life": millionRevolutions, "the speed": speed });
  return (1e6 * millionRevolutions) / (60 * speed);
}

import { refuseUnlessPositive } from "./positive.ts";

/**
 * Kinematic viscosity that parts the surfaces adequately at running temperature: nu1 = 45000 * n^-0.83 * D^-0.5 below 1000 r/min,
 * 4500 * n^-0.5 * D^-0.5 from 1000 up. The two do not quite meet at 1000, in the standard too.
 * @param speed - r/min
 * @param meanDiameter - pitch diameter of the rolling elements, or the mean of bore and outside diameter, mm
 * @returns mm2/s
 * @throws RangeError if an argument is not above 0 and finite
 * @see ISO 281:2007
 * @example referenceViscosity(1780, 60); // 13.77
 */
export function referenceViscosity(speed: number, meanDiameter: number): number {
  refuseUnlessPositive("take a reference viscosity", { "the speed": speed, "the mean diameter": meanDiameter });
  const bySpeed = speed < 1000 ? 45000 * speed ** -0.83 : 4500 / Math.sqrt(speed);
  return bySpeed / Math.sqrt(meanDiameter);
}

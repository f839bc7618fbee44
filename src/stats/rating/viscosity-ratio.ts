import { refuseUnlessPositive } from "./positive.ts";
import { referenceViscosity } from "./reference-viscosity.ts";

/**
 * Viscosity ratio kappa: viscosity at running temperature over the reference viscosity. Below 0.1 there is metal contact and no
 * modified life; above 4 more helps no further.
 * @param viscosity - of the oil, or of the grease's base oil, at running temperature, mm2/s
 * @param speed - r/min
 * @param meanDiameter - as for `referenceViscosity`, mm
 * @returns kappa, above 0, no unit
 * @throws RangeError if an argument is not above 0 and finite
 * @see ISO 281:2007
 * @example viscosityRatio(27.54, 1780, 60); // 2.0
 */
export function viscosityRatio(viscosity: number, speed: number, meanDiameter: number): number {
  refuseUnlessPositive("take a viscosity ratio", { "the viscosity": viscosity });
  return viscosity / referenceViscosity(speed, meanDiameter);
}

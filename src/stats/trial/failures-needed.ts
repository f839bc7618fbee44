import { type Aim, errorsApart } from "./aim.ts";
import { type Compared, logRatio, varianceOf } from "./compared.ts";
import { inWhole, type Whole } from "./whole.ts";

/**
 * Failures that must be seen, not units, for a log-rank test or a proportional-hazards regression to find a hazard ratio:
 * (z(1 - alpha / 2) + z(power))^2 / (variance ln(ratio)^2), variance = share (1 - share) for two groups.
 * @param hazardRatio - of one group to the other, or by one unit of the measured value: above 0, not 1
 * @param compared - the share of the first group, or the variance of the measured value
 * @param aim - level and power
 * @returns failures in both groups together, unrounded and in whole ones
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503; for a measured value F. Y. Hsieh & P. W. Lavori, Controlled Clinical Trials 21 (2000) 552-560
 * @example failuresNeeded(1.5, { share: 0.5 }); // { exact: 190.97, whole: 191 }
 */
export function failuresNeeded(hazardRatio: number, compared: Compared, aim: Aim = {}): Whole {
  const ratio = logRatio("hazard ratio", hazardRatio);
  return inWhole((errorsApart(aim) / ratio) ** 2 / varianceOf(compared));
}

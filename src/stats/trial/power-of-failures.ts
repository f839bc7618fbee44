import { logNormalTail } from "../distribution/normal-tail.ts";
import { normalHalfWidth } from "../level.ts";
import { type Compared, logRatio, varianceOf } from "./compared.ts";

/**
 * Chance that so many failures show a hazard ratio: normal distribution function of sqrt(failures variance) |ln(ratio)| - z(1 - alpha / 2).
 * The chance to be wrong about the direction is left out, as in the published formula.
 * @param failures - in both groups together, 0 or more
 * @param hazardRatio - of one group to the other, or by one unit of the measured value: above 0, not 1
 * @param compared - the share of the first group, or the variance of the measured value
 * @param level - two-sided confidence level
 * @returns a chance, 0 to 1
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503
 * @example powerOfFailures(100, 0.5, { share: 0.5 }, 0.95); // 0.93394
 */
export function powerOfFailures(failures: number, hazardRatio: number, compared: Compared, level: number): number {
  if (!(failures >= 0 && failures < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take the power of a trial: failures must be 0 or more, found ${failures}`);
  }
  const ratio = logRatio("hazard ratio", hazardRatio);
  return Math.exp(logNormalTail(Math.sqrt(failures * varianceOf(compared)) * Math.abs(ratio) - normalHalfWidth(level)));
}

import { type Aim, errorsApart } from "./aim.ts";
import { type Compared, varianceOf } from "./compared.ts";

/**
 * The smallest hazard ratio above 1 that so many failures show: exp((z(1 - alpha / 2) + z(power)) / sqrt(failures variance)).
 * Its reciprocal is the largest below 1.
 * @param failures - in both groups together, above 0
 * @param compared - the share of the first group, or the variance of the measured value
 * @param aim - level and power
 * @returns a hazard ratio above 1; Infinity where it is too large for a double
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503
 * @example detectableRatio(66, { share: 0.5 }); // 1.993
 */
export function detectableRatio(failures: number, compared: Compared, aim: Aim = {}): number {
  if (!(failures > 0 && failures < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot tell what a trial could see: failures must be above 0, found ${failures}`);
  }
  return Math.exp(errorsApart(aim) / Math.sqrt(failures * varianceOf(compared)));
}

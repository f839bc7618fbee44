import { chiSquareQuantile } from "../chi-square-quantile.ts";
import { checkedLevel } from "../level.ts";

/**
 * Exact two-sided limits for the mean of a Poisson count: half the chi-square quantiles with 2 * events and 2 * events + 2 degrees.
 * @param events - whole number, 0 or more
 * @param level - confidence level, 0 < level < 1, half of the rest left out on each side (also with 0 events, where the lower limit is 0)
 * @returns limits of the mean count, no unit
 * @throws RangeError if an argument lies outside its range
 * @see F. Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936) 437-442
 * @example countLimits(3, 0.95); // { low: 0.6187, high: 8.767 }
 */
export function countLimits(events: number, level: number): { low: number; high: number } {
  if (!(Number.isInteger(events) && events >= 0)) {
    throw new RangeError(`Cannot take limits of a count: it must be a whole number from 0, found ${events}`);
  }
  const tail = (1 - checkedLevel(level)) / 2;
  return {
    low: events === 0 ? 0 : chiSquareQuantile(tail, 2 * events) / 2,
    high: chiSquareQuantile(1 - tail, 2 * events + 2) / 2,
  };
}

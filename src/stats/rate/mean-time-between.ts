import { checkedLevel } from "../level.ts";
import { countLimits } from "./count-limits.ts";

/** Mean time between events; an end or estimate that does not exist is null, and `reason` says why. */
export type MeanTime = { estimate: number | null; low: number | null; high: number | null; reason?: string };

/**
 * Mean time between events at a constant rate, for exposure that was not stopped by an event: exposure / events, with exact limits
 * 2 * exposure / chi-square(2 * events + 2) and 2 * exposure / chi-square(2 * events).
 * With no event there is no estimate, and the one limit is a lower bound at the whole level: exposure / -ln(1 - level).
 * @param events - whole number, 0 or more
 * @param exposure - time watched, above 0 unless there was nothing to watch; in the unit of the answer
 * @param level - confidence level, 0 < level < 1
 * @returns mean time and limits, in the unit of `exposure`
 * @throws RangeError if an argument lies outside its range, or there are events without exposure
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1
 * @example meanTimeBetween(2, 800, 0.9); // { estimate: 400, low: 127.1, high: 2251.2 }
 */
export function meanTimeBetween(events: number, exposure: number, level: number): MeanTime {
  const { low, high } = countLimits(events, level);
  if (!(exposure >= 0 && exposure < Number.POSITIVE_INFINITY) || (exposure === 0 && events > 0)) {
    throw new RangeError(
      `Cannot take a mean time between events: found ${events} events in an exposure of ${exposure}`,
    );
  }
  if (exposure === 0) return { estimate: null, low: null, high: null, reason: "nothing was watched" };
  if (events === 0) {
    const bound = exposure / -Math.log1p(-checkedLevel(level));
    return { estimate: null, low: bound, high: null, reason: "no events: only a lower bound exists" };
  }
  return { estimate: exposure / events, low: exposure / high, high: exposure / low };
}

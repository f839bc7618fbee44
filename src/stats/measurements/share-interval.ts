import { normalHalfWidth } from "../level.ts";
import { wilsonLimits } from "./wilson-limits.ts";

/** A share with its limits; of nothing there is no share, and it may be any. */
export type ShareInterval =
  | { estimate: number; low: number; high: number }
  | { estimate: null; low: 0; high: 1; reason: string };

/**
 * Share of readings with Wilson's limits, which stay within 0 and 1 and cover well for few readings and shares near either end:
 * (x + z^2 / 2 -+ z sqrt(x (n - x) / n + z^2 / 4)) / (n + z^2).
 * @param count - readings that have it: whole, 0 to `of`
 * @param of - readings in all: whole, 0 or more
 * @param level - confidence level, 0 < level < 1
 * @returns a share and its limits
 * @throws RangeError if an argument lies outside its range
 * @see E. B. Wilson, J. Amer. Statist. Assoc. 22 (1927) 209-212
 * @example shareInterval(3, 10, 0.95); // { estimate: 0.3, low: 0.1078, high: 0.6032 }
 */
export function shareInterval(count: number, of: number, level: number): ShareInterval {
  if (!(Number.isSafeInteger(count) && Number.isSafeInteger(of) && count >= 0 && count <= of)) {
    throw new RangeError(`Cannot take a share: counts must be whole, from 0, found ${count} of ${of}`);
  }
  const z = normalHalfWidth(level);
  if (of === 0) return { estimate: null, low: 0, high: 1, reason: "there are no readings" };
  const estimate = count / of;
  return { estimate, ...wilsonLimits(estimate, of, z) };
}

import type { Survival } from "./survival.ts";

/** What rounding may make a survival function rise by. */
const ROUNDING = 1e-12;

/**
 * Chance of having failed at each of the ends of so many steps of a length, from 0 on.
 * @throws RangeError for a function that does not start at 1 and fall from there
 */
export function failuresAt(survival: Survival, length: number, steps: number): Float64Array {
  const failed = new Float64Array(steps + 1);
  for (let at = 0; at <= steps; at++) {
    const age = (length * at) / steps;
    const chance = survival(age);
    failed[at] = 1 - chance;
    const least = at === 0 ? 0 : failed[at - 1]! - ROUNDING;
    if (!(failed[at]! >= least && chance >= 0 && (at > 0 || chance === 1))) {
      throw new RangeError(`Cannot use a survival function that does not fall from 1 to 0: found ${chance} at ${age}`);
    }
  }
  return failed;
}

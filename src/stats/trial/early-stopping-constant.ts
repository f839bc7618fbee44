import { checkedLevel } from "../level.ts";
import { crossingChances } from "./crossing-chances.ts";

/**
 * The constant C of O'Brien and Fleming's classical two-sided bounds C sqrt(looks / k) at look k of equally spaced ones: that which holds
 * the error of all looks together at 1 - level.
 * @param looks - 1 to 50
 * @param level - two-sided confidence level
 * @returns a number of standard errors
 * @throws RangeError if an argument lies outside its range
 * @see P. C. O'Brien & T. R. Fleming, Biometrics 35 (1979) 549-556; C. Jennison & B. W. Turnbull, Group Sequential Methods, 2000, table 2.3
 * @example earlyStoppingConstant(3, 0.95); // 2.004
 */
export function earlyStoppingConstant(looks: number, level: number): number {
  if (!(Number.isInteger(looks) && looks >= 1 && looks <= 50)) {
    throw new RangeError(`Cannot take bounds: looks must be a whole number of 1 to 50, found ${looks}`);
  }
  const alpha = 1 - checkedLevel(level);
  const failures = Array.from({ length: looks }, (_, look) => look + 1);
  const error = (constant: number) => {
    const bounds = failures.map((look) => constant * Math.sqrt(looks / look));
    const { upper, lower } = crossingChances({ failures, bounds }, 0);
    return [...upper, ...lower].reduce((sum, chance) => sum + chance, 0);
  };
  let [low, high] = [0, 10];
  for (let half = 0; half < HALVINGS; half++) {
    const middle = (low + high) / 2;
    if (error(middle) > alpha) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** 10 standard errors come down to 1e-8. */
const HALVINGS = 30;

import { type Aim, errorsApart } from "./aim.ts";
import { type BoundedLooks, crossingChances } from "./crossing-chances.ts";

/**
 * How many times the failures of a trial with one look one with several needs for the same power: the square of the expected statistic at
 * the last look, over the same with one look.
 * @param looks - failures and bounds; the last may stop the trial
 * @param aim - level of the trial with one look, and power of both
 * @returns a ratio, a little above 1 for bounds of that level
 * @throws RangeError for looks or an aim out of range, or where no effect gives the power
 * @see C. Jennison & B. W. Turnbull, Group Sequential Methods, 2000, table 2.4
 * @example trialInflation({ failures: [1, 2], bounds: [2.797, 1.977] }); // 1.0075
 */
export function trialInflation(looks: BoundedLooks, aim: Aim = {}): number {
  const apart = errorsApart(aim);
  const last = looks.failures.at(-1) ?? 0;
  const power = (effect: number) =>
    crossingChances(looks, effect).upper.reduce((sum, chance) => sum + chance, 0) - (aim.power ?? 0.8);
  let [low, high] = [0, (4 * apart) / Math.sqrt(last)];
  if (!(power(high) > 0)) throw new RangeError("Cannot compare trials: with these bounds no effect gives the power");
  for (let half = 0; half < HALVINGS; half++) {
    const middle = (low + high) / 2;
    if (power(middle) < 0) low = middle;
    else high = middle;
  }
  return (((low + high) / 2) ** 2 * last) / apart ** 2;
}

const HALVINGS = 30;

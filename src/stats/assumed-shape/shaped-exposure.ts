import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { lengthRefusal } from "../weibull/refusal.ts";

/** Time watched on the scale t^shape, on which Weibull lives of that shape are exponential: total = sum * unit^shape. */
export type ShapedExposure = {
  /** Longest age, so that the sum neither overflows nor vanishes whatever the unit of the ages. */
  unit: number;
  sum: number;
  failures: number;
};

/**
 * Adds up (time / unit)^shape - (entry / unit)^shape over lives, each as often as its count.
 * @returns the exposure, or why the lives allow none
 * @throws RangeError for columns that are not lives
 */
export function shapedExposure(lives: Lives | IntervalLives, shape: number): ShapedExposure | { refused: string } {
  const columns = checkedLives(lives);
  const refused = intervalRefusal(columns) ?? lengthRefusal(columns);
  if (refused !== null) return { refused };
  const { low, high, entry, count } = columns;
  const unit = longest(columns);
  let sum = 0;
  let failures = 0;
  for (let life = 0; life < low.length; life++) {
    const times = count?.[life] ?? 1;
    if (times === 0) continue;
    sum += times * stretch(low[life]! / unit, (entry?.[life] ?? 0) / low[life]!, shape);
    if (high[life] !== Number.POSITIVE_INFINITY) failures += times;
  }
  return sum > 0 ? { unit, sum, failures } : { refused: "nothing was watched" };
}

function longest({ low, count }: IntervalLives): number {
  let unit = 0;
  for (let life = 0; life < low.length; life++) if (count?.[life] !== 0 && low[life]! > unit) unit = low[life]!;
  return unit;
}

/** age^shape * (1 - entered^shape), with `entered` the share of the age that lies before entry; exact also for entries near the end. */
function stretch(age: number, entered: number, shape: number): number {
  return age ** shape * (entered === 0 ? 1 : -Math.expm1(shape * Math.log(entered)));
}

function intervalRefusal({ low, high, count }: IntervalLives): string | null {
  let within = 0;
  for (let life = 0; life < low.length; life++) {
    if (high[life] !== low[life] && high[life] !== Number.POSITIVE_INFINITY) within += count?.[life] ?? 1;
  }
  if (within === 0) return null;
  const told = within === 1 ? "1 failure is" : `${within} failures are`;
  return `${told} known only to lie within an interval, and bounds with an assumed shape need ages`;
}

import type { IntervalLives } from "../lives.ts";

/** Why no Weibull distribution can be fitted to lives, and how many failures they hold. */
export type Refusal = { refused: string; failures: number };

/**
 * Looks for what makes a fit impossible or meaningless: no length, too few failures, all failures at one age
 * (where none lived longer the likelihood then rises without end as the shape grows; in any case one age tells no spread).
 * @param least - failures that a fit needs: 1 where the shape is not fitted, and then one age will do
 * @returns null when a fit may be tried
 */
export function refusalOf(lives: IntervalLives, least: 1 | 2 = 2): Refusal | null {
  const failures = failuresOf(lives);
  const refused =
    lengthRefusal(lives) ?? failureRefusal(failures, least) ?? (least === 2 ? oneAgeRefusal(lives) : null);
  return refused === null ? null : { refused, failures };
}

function failuresOf({ high, count }: IntervalLives): number {
  let failures = 0;
  for (let life = 0; life < high.length; life++) {
    if (high[life] !== Number.POSITIVE_INFINITY) failures += count === undefined ? 1 : count[life]!;
  }
  return failures;
}

/** Lives that last no time while seen, in words; null where there are none. */
export function lengthRefusal(lives: IntervalLives): string | null {
  let noLength = 0;
  let unseen = 0;
  for (let life = 0; life < lives.low.length; life++) {
    if (lastsWhileSeen(lives, life)) continue;
    if (lives.low[life] === 0) noLength += lives.count?.[life] ?? 1;
    else unseen += lives.count?.[life] ?? 1;
  }
  if (noLength > 0) return `${told(noLength)} of length 0`;
  return unseen > 0 ? `${told(unseen)} over before coming under observation` : null;
}

/** Seen for some time: an end known exactly must come after the entry, a failure within an interval may come at any age after it. */
function lastsWhileSeen({ low, high, entry }: IntervalLives, life: number): boolean {
  const entered = entry === undefined ? 0 : entry[life]!;
  if (entered < low[life]!) return true;
  const withinInterval = high[life]! > low[life]! && high[life] !== Number.POSITIVE_INFINITY;
  return withinInterval && entered === low[life];
}

function told(lives: number): string {
  return lives === 1 ? "1 life is" : `${lives} lives are`;
}

function failureRefusal(failures: number, least: 1 | 2): string | null {
  if (failures === 0) return "there are no failures";
  return failures < least ? "there is only one failure; shape and scale need two" : null;
}

function oneAgeRefusal({ low, high, count }: IntervalLives): string | null {
  let age: number | null = null;
  for (let life = 0; life < low.length; life++) {
    if (high[life] === Number.POSITIVE_INFINITY || count?.[life] === 0) continue;
    if (low[life] !== high[life] || (age !== null && low[life] !== age)) return null;
    age = low[life]!;
  }
  return `all failures are at the one age ${age}, which tells nothing of the shape`;
}

import { looksRefusal } from "./looks.ts";
import { chancesBeyond, NOT_BEGUN, type StillRunning, walkOn } from "./sequential-walk.ts";

/** Looks at a trial: failures seen, rising, and how far the statistic must lie from 0 to stop there, null where it may not. */
export type BoundedLooks = { failures: readonly number[]; bounds: readonly (number | null)[] };

/** Chances to stop, look by look. */
export type CrossingChances = {
  /** First beyond the bound on the side of the effect. */
  upper: number[];
  /** First beyond that on the other side. */
  lower: number[];
};

/**
 * Chances that a trial stops at each of its looks: of a null one, the error of either kind that the bounds allow; of one with an effect,
 * the power. By recursive integration, to 1e-6.
 * @param looks - failures and bounds; at least one, failures rising
 * @param effect - expected standardised statistic at one failure, |ln(hazard ratio)| sqrt(share (1 - share)); at d failures it is sqrt(d) times that
 * @returns a chance for each look and side
 * @throws RangeError for looks that are none, a bound below 0, or an effect that is no number
 * @see C. Jennison & B. W. Turnbull, Group Sequential Methods, 2000, ch. 19
 * @example crossingChances({ failures: [25, 50, 75], bounds: [3.71, 2.511, 1.993] }, 0); // upper and lower sum to 0.05
 */
export function crossingChances(looks: BoundedLooks, effect: number): CrossingChances {
  checkLooks(looks, effect);
  const { failures, bounds } = looks;
  const [upper, lower]: [number[], number[]] = [[], []];
  let running: StillRunning = NOT_BEGUN;
  for (const [at, seen] of failures.entries()) {
    const bound = bounds[at] ?? Number.POSITIVE_INFINITY;
    const beyond = chancesBeyond(running, seen, bound, effect);
    upper.push(beyond.upper);
    lower.push(beyond.lower);
    const next = failures[at + 1];
    if (next !== undefined) running = walkOn(running, [seen, next], bound, effect);
  }
  return { upper, lower };
}

function checkLooks({ failures, bounds }: BoundedLooks, effect: number): void {
  const reason = looksRefusal(failures);
  if (reason !== null) throw new RangeError(`Cannot judge looks: ${reason}`);
  if (bounds.length !== failures.length) {
    throw new RangeError(`Cannot judge looks: found ${bounds.length} bounds for ${failures.length} looks`);
  }
  const wrong = bounds.find((bound) => bound !== null && !(bound > 0));
  if (wrong !== undefined) throw new RangeError(`Cannot judge looks: a bound must be above 0, found ${wrong}`);
  if (!Number.isFinite(effect)) throw new RangeError(`Cannot judge looks: the effect is ${effect}`);
}

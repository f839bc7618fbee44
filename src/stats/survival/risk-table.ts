import { checkedLives } from "../check-lives.ts";
import type { Lives } from "../lives.ts";
import { type Tally, tally } from "../tally.ts";
import { ticksOf } from "../ticks.ts";
import { refuseUnseen } from "./refuse-unseen.ts";

/** At each age where a life ends: lives at risk just before it, failures and removals at it. */
export type RiskRow = { time: number; atRisk: number; failed: number; censored: number };

/**
 * Counts lives at risk: entry < t <= time, failures before removals at equal ages.
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 */
export function riskTable(lives: Lives): RiskRow[] {
  const { failures, removals, entries, fromStart } = endsAndEntries(lives);
  const rows: RiskRow[] = [];
  let atRisk = fromStart;
  let failure = 0;
  let removal = 0;
  let entry = 0;
  while (failure < failures.value.length || removal < removals.value.length) {
    const time = Math.min(next(failures, failure), next(removals, removal));
    while (next(entries, entry) < time) atRisk += entries.count[entry++]!;
    const failed = next(failures, failure) === time ? failures.count[failure++]! : 0;
    const censored = next(removals, removal) === time ? removals.count[removal++]! : 0;
    rows.push({ time, atRisk, failed, censored });
    atRisk -= failed + censored;
  }
  return rows;
}

function next({ value }: Tally, at: number): number {
  return at < value.length ? value[at]! : Number.POSITIVE_INFINITY;
}

/**
 * Smallest age after which at least `minimum` lives are at risk at once, where there is any late entry; 0 where there is none.
 * Before it a single failure would move the curve too far.
 * @returns null where there is late entry and so many are never at risk
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 */
export function curveStart(lives: Lives, minimum: number): number | null {
  const { failures, removals, entries, fromStart } = endsAndEntries(lives);
  if (entries.value.length === 0) return 0;
  let atRisk = fromStart;
  if (atRisk >= minimum) return 0;
  let failure = 0;
  let removal = 0;
  for (let entry = 0; entry < entries.value.length; entry++) {
    const age = entries.value[entry]!;
    atRisk += entries.count[entry]!;
    while (next(failures, failure) <= age) atRisk -= failures.count[failure++]!;
    while (next(removals, removal) <= age) atRisk -= removals.count[removal++]!;
    if (atRisk >= minimum) return age;
  }
  return null;
}

function endsAndEntries(lives: Lives): { failures: Tally; removals: Tally; entries: Tally; fromStart: number } {
  checkedLives(lives);
  const { time, failed: flags, entry, count } = lives;
  const ticks = ticksOf(time);
  const failures = tally({ values: time, count, flags, is: 1 }, ticks);
  const removals = tally({ values: time, count, flags, is: 0 }, ticks);
  if (entry === undefined) {
    return { failures, removals, entries: { value: NONE, count: NONE }, fromStart: sum(failures) + sum(removals) };
  }
  refuseUnseen(time, entry);
  const { value, count: entered } = tally({ values: entry, count }, ticksOf(entry));
  const early = value[0] === 0 ? 1 : 0;
  const entries = { value: value.subarray(early), count: entered.subarray(early) };
  return { failures, removals, entries, fromStart: early === 1 ? entered[0]! : 0 };
}

const NONE = new Float64Array(0);

function sum({ count }: Tally): number {
  return count.reduce((all, lives) => all + lives, 0);
}

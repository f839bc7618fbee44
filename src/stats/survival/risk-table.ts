import { checkLives } from "../check-lives.ts";
import { type LabelledTally, labelledTally } from "../labelled-tally.ts";
import type { Lives } from "../lives.ts";
import { type Tally, tally } from "../tally.ts";
import { ticksOf } from "../ticks.ts";
import { wholeEnds } from "../whole-ends.ts";
import { refuseUnseen } from "./refuse-unseen.ts";

/** At each age where a life ends: lives at risk just before it, failures and removals at it. */
export type RiskRow = { time: number; atRisk: number; failed: number; censored: number };

/**
 * Counts lives at risk: entry < t <= time, failures before removals at equal ages.
 * @param lives - exact or right-censored
 * @returns a row for each age at which a life ends, by age
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 * @see Klein & Moeschberger, Survival Analysis, ch. 4
 * @example riskTable({ time: Float64Array.of(4, 7), failed: Uint8Array.of(1, 0) })[0]; // { time: 4, atRisk: 2, failed: 1, censored: 0 }
 */
export function riskTable(lives: Lives): RiskRow[] {
  const { time, atRisk, failed, censored } = riskColumns(lives);
  return Array.from(time, (age, row) => ({
    time: age,
    atRisk: atRisk[row]!,
    failed: failed[row]!,
    censored: censored[row]!,
  }));
}

/** The rows of a risk table as columns. */
export type RiskColumns = Record<keyof RiskRow, Float64Array>;

/** The same as `riskTable` in columns: no objects to clear away where ages are many. */
export function riskColumns(lives: Lives): RiskColumns {
  return countedRiskColumns(countedLives(lives));
}

/** The same of lives that are counted already. */
export function countedRiskColumns({ ends, entries, fromStart }: CountedLives): RiskColumns {
  const ages = ends.value.length;
  const atRisk = new Float64Array(ages);
  const failed = new Float64Array(ages);
  const censored = new Float64Array(ages);
  let left = fromStart;
  let entry = 0;
  for (let end = 0; end < ages; end++) {
    while (next(entries, entry) < ends.value[end]!) left += entries.count[entry++]!;
    atRisk[end] = left;
    for (let cell = ends.start[end]!; cell < ends.start[end + 1]!; cell++) {
      const column = ends.label[cell] === 1 ? failed : censored;
      column[end] = ends.count[cell]!;
      left -= ends.count[cell]!;
    }
  }
  return { time: ends.value, atRisk, failed, censored };
}

function next({ value }: Tally, at: number): number {
  return at < value.length ? value[at]! : Number.POSITIVE_INFINITY;
}

/**
 * Smallest age after which at least `minimum` lives are at risk at once, where there is any late entry; 0 where there is none.
 * Before it a single failure would move the curve too far.
 * @param lives - exact or right-censored
 * @param minimum - lives at risk that are enough
 * @returns null where there is late entry and so many are never at risk
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 * @see Klein & Moeschberger, Survival Analysis, ch. 4 (left truncation)
 * @example curveStart({ time: Float64Array.of(5, 9), failed: Uint8Array.of(1, 1), entry: Float64Array.of(0, 3) }, 2); // 3
 */
export function curveStart(lives: Lives, minimum: number): number | null {
  return entersLate(lives) ? startOfCounted(countedLives(lives), minimum) : 0;
}

/** The same of lives that are counted already. */
export function startOfCounted({ ends, entries, fromStart }: CountedLives, minimum: number): number | null {
  if (entries.value.length === 0) return 0;
  let atRisk = fromStart;
  if (atRisk >= minimum) return 0;
  let end = 0;
  for (let entry = 0; entry < entries.value.length; entry++) {
    const age = entries.value[entry]!;
    atRisk += entries.count[entry]!;
    for (; end < ends.value.length && ends.value[end]! <= age; end++) atRisk -= livesAt(ends, end);
    if (atRisk >= minimum) return age;
  }
  return null;
}

function livesAt({ start, count }: LabelledTally, at: number): number {
  return sum(count.subarray(start[at], start[at + 1]));
}

/** Lives by the ages at which they end and come under observation, and how many were observed from the start. */
export type CountedLives = { ends: LabelledTally; entries: Tally; fromStart: number };

/**
 * Checks and counts lives for all that is told of those at risk.
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 */
export function countedLives(lives: Lives): CountedLives {
  const ends = wholeEnds(lives) ?? checkedEnds(lives);
  const { time, entry, count } = lives;
  if (entry === undefined || !entersLate(lives)) {
    return { ends, entries: { value: NONE, count: NONE }, fromStart: sum(ends.count) };
  }
  refuseUnseen(time, entry);
  const { value, count: entered } = tally({ values: entry, count }, ticksOf(entry));
  const early = value[0] === 0 ? 1 : 0;
  const entries = { value: value.subarray(early), count: entered.subarray(early) };
  return { ends, entries, fromStart: early === 1 ? entered[0]! : 0 };
}

function checkedEnds(lives: Lives): LabelledTally {
  checkLives(lives);
  return labelledTally({ values: lives.time, label: lives.failed, labels: 2, count: lives.count });
}

/** Whether any of lives came under observation late. */
export function entersLate({ entry }: Lives): boolean {
  return entry?.some((age) => age > 0) ?? false;
}

const NONE = new Float64Array(0);

function sum(count: Float64Array): number {
  return count.reduce((all, lives) => all + lives, 0);
}

import { checkedLives } from "../check-lives.ts";
import type { Lives } from "../lives.ts";
import { type Tally, tally } from "../tally.ts";

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
    const time = Math.min(failures.value[failure] ?? Infinity, removals.value[removal] ?? Infinity);
    while (entry < entries.value.length && entries.value[entry]! < time) atRisk += entries.count[entry++]!;
    const failed = failures.value[failure] === time ? failures.count[failure++]! : 0;
    const censored = removals.value[removal] === time ? removals.count[removal++]! : 0;
    rows.push({ time, atRisk, failed, censored });
    atRisk -= failed + censored;
  }
  return rows;
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
    while (failure < failures.value.length && failures.value[failure]! <= age) atRisk -= failures.count[failure++]!;
    while (removal < removals.value.length && removals.value[removal]! <= age) atRisk -= removals.count[removal++]!;
    if (atRisk >= minimum) return age;
  }
  return null;
}

function endsAndEntries(lives: Lives): { failures: Tally; removals: Tally; entries: Tally; fromStart: number } {
  const { entry } = checkedLives(lives);
  const { time, failed, count } = lives;
  const where = (column: Float64Array, holds: (life: number) => boolean) => {
    const kept = new Float64Array(column.length);
    const counts = new Float64Array(count === undefined ? 0 : column.length);
    let size = 0;
    for (let life = 0; life < column.length; life++) {
      if (!holds(life)) continue;
      if (count !== undefined) counts[size] = count[life]!;
      kept[size++] = column[life]!;
    }
    return tally(kept.subarray(0, size), count === undefined ? undefined : counts.subarray(0, size));
  };
  const late = (life: number) => entry !== undefined && entry[life]! > 0;
  for (let life = 0; life < time.length; life++) {
    if (late(life) && !(entry![life]! < time[life]!)) {
      throw new RangeError(
        `Cannot count lives at risk: life ${life} (counted from 0) enters at ${entry![life]} and ends at ${time[life]}`,
      );
    }
  }
  const all = time.length === 0 ? 0 : (count?.reduce((sum, lives) => sum + lives, 0) ?? time.length);
  const entries = where(entry ?? new Float64Array(0), late);
  return {
    failures: where(time, (life) => failed[life] === 1),
    removals: where(time, (life) => failed[life] === 0),
    entries,
    fromStart: all - entries.count.reduce((sum, lives) => sum + lives, 0),
  };
}

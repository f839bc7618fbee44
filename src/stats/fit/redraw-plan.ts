import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { riskTable } from "../survival/risk-table.ts";
import { FallingColumn } from "./falling-column.ts";

/**
 * How a set of lives came to be watched, one row a life: what a redraw of it keeps. An unfailed life keeps its follow-up; how long a failed
 * life would have been followed is not known, and is drawn from the follow-up of those that were followed further (the reverse
 * Kaplan-Meier estimate); entries and the ages at which was looked are kept.
 */
export type RedrawPlan = {
  /** Ages at which follow-up ends, ascending. */
  ends: Float64Array;
  /** A life: the place in `ends` of its known end, or DRAWN_END, or WITHOUT_END. */
  end: Int32Array;
  /**
   * Chance that follow-up goes on past each of `ends`. None goes past the last; under late entry that may be so earlier too, and from there
   * the chance is reckoned anew, less 1 for each time, so that the column falls all along.
   */
  goesOn: FallingColumn;
  /** A life whose end is drawn: the value of `goesOn` up to which its follow-up is known to have gone on. */
  known: Float64Array;
  entry: Float64Array;
  /** Ages at which failures are found, ascending; empty where failures show at once. */
  grid: Float64Array;
  /** Failures at which the watching of all stops (type II censoring); null where it stops for other reasons. */
  stopsAt: number | null;
};

/** More lives than this are too many to be drawn a thousand times while someone waits. */
const MOST_LIVES = 20_000;

/**
 * Plans the redraws of lives.
 * @returns why there is none where there are over 20,000 lives, or counts that are not whole
 * @throws RangeError for columns that are not lives
 */
export function redrawPlan(lives: Lives | IntervalLives): RedrawPlan | { reason: string } {
  const columns = checkedLives(lives);
  const rows = eachLife(columns);
  if ("reason" in rows) return rows;
  const { ends, goesOn } = followUp(rows);
  const unfailed = rows.high.map((high) => (high === Number.POSITIVE_INFINITY ? 1 : 0));
  const from = Int32Array.from(unfailed, (kept, life) => firstFrom(ends, (kept === 1 ? rows.low : rows.high)[life]!));
  const known = Float64Array.from(from, (place) => goesOn.values[place - 1] ?? 1);
  const unknown = ends.length === 0 ? WITHOUT_END : DRAWN_END;
  const end = Int32Array.from(unfailed, (kept, life) => (kept === 1 ? from[life]! : unknown));
  return { ends, end, goesOn, known, entry: rows.entry, grid: lookedAt(rows), stopsAt: stopsAt(rows) };
}

/** In place of the place of a life's end: it is drawn, or it has none. */
export const DRAWN_END = -1;
export const WITHOUT_END = -2;

type Rows = { low: Float64Array; high: Float64Array; entry: Float64Array };

/** Columns with a row for each life in place of counts; why not, where that can't be. */
function eachLife({ low, high, entry, count }: IntervalLives): Rows | { reason: string } {
  const size = count === undefined ? low.length : count.reduce((sum, lives) => sum + lives, 0);
  if (!(size <= MOST_LIVES)) return { reason: "there are too many lives to draw a thousand times" };
  if (count?.some((lives) => !Number.isInteger(lives))) return { reason: "parts of lives can't be drawn" };
  const row = new Int32Array(size);
  for (let life = 0, at = 0; life < low.length; life++) {
    const to = at + (count?.[life] ?? 1);
    row.fill(life, at, to);
    at = to;
  }
  const each = (column: Float64Array) => Float64Array.from(row, (life) => column[life]!);
  return { low: each(low), high: each(high), entry: entry === undefined ? new Float64Array(size) : each(entry) };
}

/** Ages at which follow-up ended unfailed, and the chance to go on past each: here a failure is what ends the watching. */
function followUp({ low, high, entry }: Rows): Pick<RedrawPlan, "ends" | "goesOn"> {
  const time = high.map((end, life) => (end === Number.POSITIVE_INFINITY ? low[life]! : end));
  const failed = Uint8Array.from(high, (end) => (end === Number.POSITIVE_INFINITY ? 0 : 1));
  const rows = riskTable({ time, failed, entry }).filter(({ censored }) => censored > 0);
  let chance = 1;
  let anew = 0;
  const goesOn = Float64Array.from(rows, ({ atRisk, failed, censored }) => {
    if (chance === 0) {
      chance = 1;
      anew++;
    }
    chance *= 1 - censored / (atRisk - failed);
    return chance - anew;
  });
  return { ends: Float64Array.from(rows, ({ time }) => time), goesOn: new FallingColumn(goesOn) };
}

/** How many failures end a test of lives begun together: those left are all suspended at the age of the last one. */
function stopsAt({ low, high, entry }: Rows): number | null {
  const last = high.reduce((most, end) => (end === Number.POSITIVE_INFINITY ? most : Math.max(most, end)), 0);
  let failures = 0;
  for (let life = 0; life < low.length; life++) {
    if (entry[life] !== 0) return null;
    if (high[life] === low[life]) failures++;
    else if (high[life] !== Number.POSITIVE_INFINITY || low[life] !== last) return null;
  }
  return failures < low.length ? failures : null;
}

/** Where no failure shows at once, the ages at which was looked. */
function lookedAt({ low, high }: Rows): Float64Array {
  const ages = new Set<number>();
  for (let life = 0; life < low.length; life++) {
    if (high[life] === low[life]) return new Float64Array(0);
    if (low[life]! > 0) ages.add(low[life]!);
    if (high[life] !== Number.POSITIVE_INFINITY) ages.add(high[life]!);
  }
  return Float64Array.from(ages).sort();
}

/** Place of the first value that is not below `value`; the length where all are. */
export function firstFrom(sorted: Float64Array | Int32Array, value: number): number {
  let from = 0;
  let to = sorted.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (sorted[middle]! < value) from = middle + 1;
    else to = middle;
  }
  return from;
}

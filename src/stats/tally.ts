import { orderOf } from "./order.ts";
import type { Ticks } from "./ticks.ts";

/** Distinct values in ascending order, and the number of rows (or sum of their counts) at each. */
export type Tally = { value: Float64Array; count: Float64Array };

/** Rows of a column to be counted: those whose flag is `is`; all where there are no flags. */
export type TalliedRows = { values: Float64Array; count?: Float64Array | undefined; flags?: Uint8Array; is?: 0 | 1 };

/**
 * Counts rows by value.
 * @param rows - values of 0 or more, and how many a row stands for; 1 where not given
 * @param ticks - of all the values, as `ticksOf` finds them
 */
export function tally(rows: TalliedRows, ticks: Ticks | null): Tally {
  return ticks === null ? bySorting(rows) : byCounting(rows, ticks);
}

function byCounting({ values, count, flags, is }: TalliedRows, { perUnit, largest }: Ticks): Tally {
  const sums = new Float64Array(largest + 1);
  for (let row = 0; row < values.length; row++) {
    if (flags !== undefined && flags[row] !== is) continue;
    sums[Math.round(values[row]! * perUnit)]! += count === undefined ? 1 : count[row]!;
  }
  const value = new Float64Array(sums.length);
  let size = 0;
  for (let tick = 0; tick < sums.length; tick++) {
    if (sums[tick] === 0) continue;
    value[size] = tick / perUnit;
    sums[size++] = sums[tick]!;
  }
  return { value: value.slice(0, size), count: sums.slice(0, size) };
}

function bySorting(rows: TalliedRows): Tally {
  const { values, count } = wanted(rows);
  const sums = new Float64Array(values.length);
  let size = 0;
  for (let rank = 0; rank < values.length; rank++) {
    if (size === 0 || values[rank] !== values[size - 1]) values[size++] = values[rank]!;
    sums[size - 1]! += count === undefined ? 1 : count[rank]!;
  }
  return { value: values.slice(0, size), count: sums.slice(0, size) };
}

/** The rows to be counted, in ascending order of value; those that count for nothing are left out. */
function wanted({ values, count, flags, is }: TalliedRows): { values: Float64Array; count?: Float64Array } {
  const used = new Uint32Array(values.length);
  let size = 0;
  for (let row = 0; row < values.length; row++) {
    if ((flags === undefined || flags[row] === is) && count?.[row] !== 0) used[size++] = row;
  }
  const kept = pick(values, used.subarray(0, size));
  if (count === undefined) return { values: kept.sort() };
  const order = orderOf(kept);
  return { values: pick(kept, order), count: pick(pick(count, used.subarray(0, size)), order) };
}

function pick(column: Float64Array, rows: Uint32Array): Float64Array {
  const picked = new Float64Array(rows.length);
  for (let at = 0; at < rows.length; at++) picked[at] = column[rows[at]!]!;
  return picked;
}

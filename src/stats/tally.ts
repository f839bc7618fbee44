import { orderOf } from "./order.ts";
import { type Ticks, ticksOf } from "./ticks.ts";

/** Distinct values in ascending order, and the number of rows (or sum of their counts) at each. */
export type Tally = { value: Float64Array; count: Float64Array };

/**
 * Counts rows by value.
 * @param values - 0 or more
 * @param count - how many a row stands for; 1 where not given
 */
export function tally(values: Float64Array, count?: Float64Array): Tally {
  const ticks = ticksOf(values);
  return ticks === null ? bySorting(values, count) : byCounting(values, count, ticks);
}

function byCounting(values: Float64Array, count: Float64Array | undefined, { perUnit, largest }: Ticks): Tally {
  const sums = new Float64Array(largest + 1);
  for (let row = 0; row < values.length; row++) {
    sums[Math.round(values[row]! * perUnit)]! += count === undefined ? 1 : count[row]!;
  }
  const used = new Float64Array(sums.length);
  let size = 0;
  for (let tick = 0; tick < sums.length; tick++) {
    if (sums[tick] === 0) continue;
    used[size] = tick / perUnit;
    sums[size++] = sums[tick]!;
  }
  return { value: used.slice(0, size), count: sums.slice(0, size) };
}

function bySorting(values: Float64Array, count: Float64Array | undefined): Tally {
  const order = count === undefined ? null : orderOf(values);
  const sorted = order === null ? values.slice().sort() : Float64Array.from(order, (row) => values[row]!);
  const sums = new Float64Array(sorted.length);
  let size = 0;
  for (let rank = 0; rank < sorted.length; rank++) {
    const lives = order === null ? 1 : (count?.[order[rank]!] ?? 1);
    if (lives === 0) continue;
    if (size === 0 || sorted[rank] !== sorted[size - 1]) sorted[size++] = sorted[rank]!;
    sums[size - 1]! += lives;
  }
  return { value: sorted.slice(0, size), count: sums.slice(0, size) };
}

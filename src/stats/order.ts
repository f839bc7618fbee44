import { radixOrder } from "./radix-order.ts";
import { ticksOf, ticksPerUnit } from "./ticks.ts";

/** Row numbers in ascending order of `values` (0 or more); rows of equal value stay in their order. */
export function orderOf(values: Float64Array): Uint32Array {
  const ticks = ticksOf(values);
  if (ticks === null) return bySorting(values);
  const next = new Uint32Array(ticks.largest + 2);
  for (let row = 0; row < values.length; row++) next[Math.round(values[row]! * ticks.perUnit) + 1]!++;
  for (let tick = 1; tick < next.length; tick++) next[tick]! += next[tick - 1]!;
  const order = new Uint32Array(values.length);
  for (let row = 0; row < values.length; row++) order[next[Math.round(values[row]! * ticks.perUnit)]!++] = row;
  return order;
}

/** Up to so many rows comparing is quicker. */
const MOST_COMPARED = 2000;

/** Whole ticks with the row number behind them are numbers, which are sorted several times as fast as by comparing. */
function bySorting(values: Float64Array): Uint32Array {
  const size = values.length;
  const perUnit = ticksPerUnit(values, Number.MAX_SAFE_INTEGER / size - 1);
  if (perUnit === null && size > MOST_COMPARED) return radixOrder(values);
  if (perUnit === null) return Uint32Array.from(values.keys()).sort((a, b) => values[a]! - values[b]! || a - b);
  const keys = new Float64Array(size);
  for (let row = 0; row < size; row++) keys[row] = Math.round(values[row]! * perUnit) * size + row;
  keys.sort();
  const order = new Uint32Array(size);
  for (let rank = 0; rank < size; rank++) order[rank] = keys[rank]! % size;
  return order;
}

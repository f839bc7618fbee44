import { checkEvents, countedRows, type RecurrentEvents } from "./recurrent-events.ts";

/** One unit: from when to when it was watched, and its ages at events, ascending. */
export type UnitHistory = { entry: number; end: number; ages: Float64Array };

/**
 * Events sorted into one history a unit, in the order of the unit numbers.
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 */
export function unitHistories(events: RecurrentEvents): UnitHistory[] {
  checkEvents(events);
  const { unit, time, entry, end } = events;
  const rows = countedRows(events);
  const from = new Uint32Array(end.length + 1);
  for (const row of rows) from[unit[row]! + 1]!++;
  for (let one = 0; one < end.length; one++) from[one + 1]! += from[one]!;
  const next = from.slice();
  const ages = new Float64Array(rows.length);
  for (const row of rows) ages[next[unit[row]!]!++] = time[row]!;
  return Array.from(end, (last, one) => ({
    entry: entry[one]!,
    end: last,
    ages: ages.subarray(from[one]!, from[one + 1]!),
  }));
}

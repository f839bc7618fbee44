import { orderOf } from "../order.ts";

/** Events that come back on the same units, by age. Units are numbered from 0; all ages are in one unit. */
export type RecurrentEvents = {
  /** Unit of each event. */
  unit: Int32Array;
  /** Age at each event, after the unit's entry and not after its end. */
  time: Float64Array;
  /** 0: the row is not counted (an end of observation, another kind of event); all rows count where not given. */
  event?: Uint8Array;
  /** Per unit: age at which it came under observation; 0 is from the start. Under observation when entry < t <= end. */
  entry: Float64Array;
  /** Per unit: age at which observation ended. */
  end: Float64Array;
};

/** @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation */
export function checkEvents(events: RecurrentEvents): void {
  const { unit, time, event = unit, entry, end } = events;
  if (time.length !== unit.length || event.length !== unit.length || entry.length !== end.length) {
    const found = `${unit.length} units, ${time.length} ages, ${event.length} marks, ${entry.length} entries, ${end.length} ends`;
    throw new RangeError(`Cannot count events: columns differ in length, found ${found}`);
  }
  for (let one = 0; one < end.length; one++) {
    if (!(entry[one]! >= 0 && end[one]! >= entry[one]! && end[one]! < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`Cannot count events: unit ${one} enters at ${entry[one]} and ends at ${end[one]}`);
    }
  }
  for (let row = 0; row < time.length; row++) {
    if (events.event?.[row] !== 0 && !isWatched(events, row)) {
      throw new RangeError(
        `Cannot count events: the one at ${time[row]} lies outside the observation of unit ${unit[row]}`,
      );
    }
  }
}

function isWatched({ unit, time, entry, end }: RecurrentEvents, row: number): boolean {
  const at = time[row]!;
  const from = entry[unit[row]!];
  const to = end[unit[row]!];
  return from !== undefined && to !== undefined && at <= to && (at > from || (from === 0 && at === 0));
}

/** Rows that count, by age. */
export function countedRows({ time, event }: RecurrentEvents): Uint32Array {
  const order = orderOf(time);
  return event === undefined ? order : order.filter((row) => event[row] !== 0);
}

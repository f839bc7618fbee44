import type { RecurrentEvents } from "../stats/recurrence/recurrent-events.ts";
import type { RepairHistories } from "../stats/repair/repair-histories.ts";
import { ENDS, type GroupOfHistories } from "./group-histories.ts";

/** Which ends of stretches count as the event, as a set of indices into `ENDS`. */
export function countedEnds(events: "all" | "failure" | "planned"): ReadonlySet<number> {
  const names = events === "all" ? ["failure", "planned", "unknown"] : [events];
  return new Set(ENDS.flatMap((name, code) => (names.includes(name) ? [code] : [])));
}

/** Rebuilds of the kind counted by unit and the service that the unit had then; per unit, where it entered and where its record ends. */
export function serviceEvents(group: GroupOfHistories, counted: ReadonlySet<number>): RecurrentEvents {
  return eventsFrom(group, counted, (row) => group.entered[row]!);
}

/** The same by the age of the unit, of those whose age is known; and how many others there are. */
export function agedEvents(
  group: GroupOfHistories,
  counted: ReadonlySet<number>,
): { events: RecurrentEvents; leftOut: number } {
  const known = keptUnits(group, (row) => !Number.isNaN(group.ageEntered[row]!));
  return { events: eventsFrom(known.group, counted, (row) => known.group.ageEntered[row]!), leftOut: known.leftOut };
}

/** Every rebuild by the age of the unit, of those whose history since new is on record. */
export function repairHistories(group: GroupOfHistories): RepairHistories {
  const every = countedEnds("all");
  const events = eventsFrom(group, every, (row) => (group.fromNew[row] === 1 ? group.ageEntered[row]! : 0));
  const failed = new Uint8Array(events.unit.length);
  const fromNew = new Uint8Array(events.end.length);
  let event = 0;
  for (let row = 0; row < group.ends.length; row++) {
    fromNew[group.entity[row]!] = group.fromNew[row]!;
    if (every.has(group.ends[row]!)) failed[event++] = ENDS[group.ends[row]!] === "failure" ? 1 : 0;
  }
  return { ...events, failed, fromNew };
}

function eventsFrom(
  { entity, start, stop, ends }: GroupOfHistories,
  counted: ReadonlySet<number>,
  enteredAt: (row: number) => number,
): RecurrentEvents {
  const [unit, time, entry, end]: [number[], number[], number[], number[]] = [[], [], [], []];
  let served = 0;
  for (let row = 0; row < entity.length; row++) {
    const at = entity[row]!;
    if (row === 0 || at !== entity[row - 1]) {
      served = enteredAt(row);
      entry[at] = served;
    }
    served += stop[row]! - start[row]!;
    end[at] = served;
    if (!counted.has(ends[row]!)) continue;
    unit.push(at);
    time.push(served);
  }
  return {
    unit: Int32Array.from(unit),
    time: Float64Array.from(time),
    entry: Float64Array.from(entry),
    end: Float64Array.from(end),
  };
}

/** The rows of units of whom each row is to be kept, units numbered anew. */
function keptUnits(
  group: GroupOfHistories,
  keeps: (row: number) => boolean,
): { group: GroupOfHistories; leftOut: number } {
  const rows = Array.from(group.entity.keys()).filter(keeps);
  const numberOf = new Map<number, number>();
  for (const row of rows) if (!numberOf.has(group.entity[row]!)) numberOf.set(group.entity[row]!, numberOf.size);
  const pick = (values: Float64Array) => Float64Array.from(rows, (row) => values[row]!);
  const leftOut = new Set(group.entity).size - numberOf.size;
  return {
    leftOut,
    group: {
      ...group,
      entity: Int32Array.from(rows, (row) => numberOf.get(group.entity[row]!)!),
      start: pick(group.start),
      stop: pick(group.stop),
      ageEntered: pick(group.ageEntered),
      ends: Uint8Array.from(rows, (row) => group.ends[row]!),
    },
  };
}

/** Events at a service at which their unit is watched: one before any service is not. */
export function whileWatched({ unit, time, entry, end }: RecurrentEvents): RecurrentEvents {
  const rows = Array.from(unit.keys()).filter((event) => time[event]! > entry[unit[event]!]!);
  return {
    unit: Int32Array.from(rows, (event) => unit[event]!),
    time: Float64Array.from(rows, (event) => time[event]!),
    entry,
    end,
  };
}

import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { PublishedCase } from "../../published-case.ts";

export const seats = new PublishedCase("04_valve_seats");
export const repairs = new PublishedCase("05_nist_repairable");

/** A unit's ages at events, and from when to when it was watched. */
export type Unit = { ages: readonly number[]; end: number; entry?: number };

/** Units as columns. */
export function eventsOf(...units: Unit[]): RecurrentEvents {
  return {
    unit: Int32Array.from(units.flatMap(({ ages }, one) => ages.map(() => one))),
    time: Float64Array.from(units.flatMap(({ ages }) => ages)),
    entry: Float64Array.from(units, ({ entry = 0 }) => entry),
    end: Float64Array.from(units, ({ end }) => end),
  };
}

/** Valve seats of 41 engines, Nelson & Doganaksoy 1989; those of some engines alone. */
export function valveSeats(of: (engine: number) => boolean = () => true): RecurrentEvents {
  const [ids, times, status] = [seats.numbers("id"), seats.numbers("time"), seats.flags("status")];
  const units = [...new Set(ids)].filter(of).map((id): Unit => {
    const rows = Array.from(ids.keys()).filter((row) => ids[row] === id);
    const ages = rows.flatMap((row) => (status[row] === 1 ? [times[row]!] : []));
    return { ages, end: times[rows.find((row) => status[row] === 0)!]! };
  });
  return eventsOf(...units);
}

/** Ten repairs of one system in 1,500 h, NIST/SEMATECH e-Handbook 8.2.2.3. */
export function tenRepairs(end = 1500): RecurrentEvents {
  const hours = repairs.numbers("hours");
  return eventsOf({ ages: Array.from(hours.subarray(0, 10)), end });
}

/** Three systems watched to 200 h, L. H. Crow 1974, as in military handbooks; from memory. */
export const CROW: readonly (readonly number[])[] = [
  [4.3, 4.4, 10.2, 23.5, 23.8, 26.4, 74, 77.1, 92.1, 197.2],
  [0.1, 5.6, 18.6, 19.5, 24.2, 26.7, 45.1, 45.8, 75.7, 79.7, 98.6, 120.1, 161.8, 180.6, 190.8],
  [8.4, 32.5, 44.7, 48.4, 50.6, 73.6, 98.7, 112.2, 129.8, 136, 195.8],
];

/** The three systems, each watched over a stretch of its own. */
export function crowSystems(...stretches: [entry: number, end: number][]): RecurrentEvents {
  return eventsOf(
    ...CROW.map((all, one) => {
      const [entry, end] = stretches[one] ?? [0, 200];
      return { ages: all.filter((age) => age > entry && age <= end), entry, end };
    }),
  );
}

/** The same events with ages in another unit. */
export function inUnits(events: RecurrentEvents, factor: number): RecurrentEvents {
  const times = (ages: Float64Array) => ages.map((age) => age * factor);
  return { ...events, time: times(events.time), entry: times(events.entry), end: times(events.end) };
}

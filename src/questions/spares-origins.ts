import { addDays } from "./spares-use.ts";

/** Months ahead of each forecast that is replayed, and between one and the next. */
export const REPLAYED_MONTHS = 12;
export const ORIGIN_STEP = 3;
/** Months of records before the first forecast. */
const RECORDS_FIRST = 24;

/** Days at which forecasts are replayed, and the months about them. */
export type Origins = {
  /** First day of each month from the first whole one on, the last one the day after the as-of date. Months count back from that. */
  edges: string[];
  /** Places in `edges` of the days after each origin, the earliest first. */
  at: number[];
};

/**
 * Origins every three months back from twelve months before the as-of date, as long as two years of records lie before them. They hang on
 * the as-of date, so that the last window ends with it.
 * @param recordsFrom - first day on which records are whole, YYYY-MM-DD
 * @param asOf - last day known, YYYY-MM-DD
 */
export function originsOf(recordsFrom: string, asOf: string): Origins {
  const end = addDays(asOf, 1);
  const edges: string[] = [];
  for (let months = 0; ; months++) {
    const edge = monthsBefore(end, months);
    if (edge < recordsFrom) break;
    edges.unshift(edge);
  }
  const at: number[] = [];
  for (let place = edges.length - 1 - REPLAYED_MONTHS; place >= RECORDS_FIRST; place -= ORIGIN_STEP) at.unshift(place);
  return { edges, at };
}

/** Of so many origins, those whose windows do not overlap, the last one among them. */
export function isApart(origin: number, origins: number): boolean {
  return (origins - 1 - origin) % (REPLAYED_MONTHS / ORIGIN_STEP) === 0;
}

/** The same day of an earlier month, or its last one where it has no such day. */
export function monthsBefore(day: string, months: number): string {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  const last = new Date(Date.UTC(year, month - months, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 - months, Math.min(date, last))).toISOString().slice(0, 10);
}

import type { Stay } from "./history.ts";
import { hoursBetween } from "./running-time.ts";

/** From a day on, this meter stands on the frame: it showed `shown` when the frame had run `hours`. It may stick. */
export type MeterSpan = { from: number; hours: number; shown: number; stuckFrom: number | null };

/** A five-figure meter starts again here. */
export const ROLLOVER_AT = 100_000;

/** What the meter shows on a day when the frame has run `hours`. */
export function shownHours(spans: MeterSpan[], day: number, hours: number): number {
  const span = spans.findLast(({ from }) => from <= day);
  if (span === undefined) throw new RangeError(`Cannot read a meter on day ${day}: it is not on the frame yet`);
  const counted = span.stuckFrom === null ? hours : Math.min(hours, span.stuckFrom);
  return Math.round(((span.shown + counted - span.hours) % ROLLOVER_AT) * 10) / 10;
}

/** Hours that a frame has run by the start of a day, from its stays in order of time; null before the first. */
export function hoursOn(stays: Stay[], day: number): number | null {
  const stay = stays.findLast(({ installedOn }) => installedOn <= day);
  if (stay === undefined) return null;
  if (stay.ends !== "running" && day >= stay.removedOn) return stay.hoursRemoved;
  return stay.hoursInstalled + hoursBetween(stay.unit, stay.installedOn, day);
}

const DAY = 86_400_000;

/** Days since 1970-01-01 of a civil date `YYYY-MM-DD`; no time zone comes into it. */
export function dayOf(iso: string): number {
  return Math.round(Date.parse(`${iso}T00:00:00Z`) / DAY);
}

/** Day number of the first of a month; months count from 1. */
export function firstOfMonth(year: number, month: number): number {
  return Date.UTC(year, month - 1, 1) / DAY;
}

/** The year that a day number lies in. */
export function yearOf(day: number): number {
  return new Date(day * DAY).getUTCFullYear();
}

/** The day so many months after another; the last of the month where that one is too short. */
export function addMonths(day: number, months: number): number {
  const date = new Date(day * DAY);
  const [year, month] = [date.getUTCFullYear(), date.getUTCMonth() + months];
  return Math.min(Date.UTC(year, month, date.getUTCDate()), Date.UTC(year, month + 1, 0)) / DAY;
}

/** The civil date of a day number, as `YYYY-MM-DD`. */
export function isoDate(day: number): string {
  return new Date(day * DAY).toISOString().slice(0, 10);
}

/** A day in an owner's way of writing: `y`, `m`, `d` stand for the padded parts, as in "d/m/y". */
export function writtenDate(day: number, pattern: string): string {
  const [y = "", m = "", d = ""] = isoDate(day).split("-");
  return pattern.replace(/[ymd]/g, (part) => ({ y, m, d })[part] ?? part);
}

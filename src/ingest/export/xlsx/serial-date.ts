const SECONDS_A_DAY = 86_400;
// 9999-12-31, the last day of a spreadsheet, in each system.
const LAST = { 1900: 2_958_465, 1904: 2_957_003 } as const;
const DAY_ZERO = { 1900: Date.UTC(1899, 11, 30), 1904: Date.UTC(1904, 0, 1) } as const;

/**
 * A spreadsheet's day number as `YYYY-MM-DD`, with `HH:MM:SS` behind it where it has a time; undefined for a number that is no day.
 * Counted in days from a fixed one, never through the clock of a place. The 1900 system counts a 29 February 1900 that never was:
 * its day 60, written so for a person to see.
 * @see ECMA-376, part 1, 18.17.4.1
 * @example serialDate(45292, 1900); // "2024-01-01"
 */
export function serialDate(serial: number, system: 1900 | 1904): string | undefined {
  const seconds = Math.round(serial * SECONDS_A_DAY);
  const day = Math.floor(seconds / SECONDS_A_DAY);
  if (!(serial >= 0 && day <= LAST[system])) return undefined;
  const time = clock(seconds - day * SECONDS_A_DAY);
  return time === "00:00:00" ? civil(day, system) : `${civil(day, system)} ${time}`;
}

/** A share of a day as `HH:MM:SS`; spans of several days go on counting hours. */
export function serialTime(serial: number): string {
  const seconds = Math.round(Math.abs(serial) * SECONDS_A_DAY);
  return `${serial < 0 && seconds > 0 ? "-" : ""}${clock(seconds)}`;
}

/** The same few thousand days come again and again, and to write one out takes longer than to read its cell. */
const civils = { 1900: new Map<number, string>(), 1904: new Map<number, string>() };
const MOST_CIVILS = 100_000;

function civil(day: number, system: 1900 | 1904): string {
  const known = civils[system].get(day);
  if (known !== undefined) return known;
  const written = writtenDay(day, system);
  if (civils[system].size < MOST_CIVILS) civils[system].set(day, written);
  return written;
}

function writtenDay(day: number, system: 1900 | 1904): string {
  if (system === 1900 && day === 0) return "1900-01-00";
  if (system === 1900 && day === 60) return "1900-02-29";
  const shift = system === 1900 && day < 60 ? 1 : 0;
  return new Date(DAY_ZERO[system] + (day + shift) * SECONDS_A_DAY * 1000).toISOString().slice(0, 10);
}

function clock(seconds: number): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(":");
}

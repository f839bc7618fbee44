import { afterEach, describe, expect, it } from "vitest";
import { addMonths, dayOf, firstOfMonth, isoDate, writtenDate, yearOf } from "../../src/simulate/day.ts";

const zone = process.env["TZ"];
afterEach(() => {
  process.env["TZ"] = zone;
});

describe.each([
  { tz: "UTC", minutes: 0 },
  { tz: "Pacific/Kiritimati", minutes: -840 },
  { tz: "America/Adak", minutes: 600 },
])("days under $tz", ({ tz, minutes }) => {
  it.each([
    { iso: "1970-01-01", day: 0, source: "by definition" },
    { iso: "2000-03-01", day: 11017, source: "by hand: 30 x 365 + 7 leap days + 31 + 29" },
    { iso: "2024-12-31", day: 20088, source: "by hand: 54 x 365 + 13 leap days + 365" },
  ])("$iso is day $day ($source)", ({ iso, day }) => {
    process.env["TZ"] = tz;
    expect(new Date(2024, 0, 1).getTimezoneOffset()).toBe(minutes);
    expect(dayOf(iso)).toBe(day);
    expect(isoDate(day)).toBe(iso);
    expect(yearOf(day)).toBe(Number(iso.slice(0, 4)));
  });

  it("writes them in an owner's way", () => {
    process.env["TZ"] = tz;
    expect(writtenDate(firstOfMonth(2000, 3), "d/m/y")).toBe("01/03/2000");
    expect(writtenDate(firstOfMonth(2000, 3), "m/d/y")).toBe("03/01/2000");
  });

  it.each([
    { from: "2024-12-31", months: 2, to: "2025-02-28" },
    { from: "2024-01-31", months: 1, to: "2024-02-29" },
    { from: "2024-11-15", months: 14, to: "2026-01-15" },
    { from: "2025-01-01", months: 12, to: "2026-01-01" },
  ])("$to is $months months after $from (by hand)", ({ from, months, to }) => {
    process.env["TZ"] = tz;
    expect(isoDate(addMonths(dayOf(from), months))).toBe(to);
  });
});

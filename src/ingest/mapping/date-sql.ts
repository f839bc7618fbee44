import { quoteText } from "../../store/quote.ts";
import type { Cells } from "./field-plan.ts";
import { monthInFigures, namesMonth, patternInFigures } from "./month-names.ts";

/** How a date cell was read, for the evidence of its column: a number per cell. */
export const DATE_EVIDENCE = { none: 0, ambiguous: 1, asDeclared: 2, swapped: 3 } as const;

const SERIAL = { "serial-1900": "1899-12-30", "serial-1904": "1904-01-01" } as const;
type Serial = keyof typeof SERIAL;

/** Whether a pattern stands for a spreadsheet's day numbers. */
export function isSerial(pattern: string): pattern is Serial {
  return Object.hasOwn(SERIAL, pattern);
}

/** A true date of a workbook or a typed table, as it is written out, with or without a time of day. */
function trueDate(text: string): string {
  return `case when ${text} like '____-__-__%' then try_strptime(left(${text}, 10), '%Y-%m-%d') end`;
}

/** SQL that reads a date; each is NULL where it does not apply. */
export type DateSql = {
  /** By the first pattern in which day and month are both numbers, and the other way round. */
  numeric?: { day: string; swapped: string };
  /** By all other patterns. */
  other: string;
  /** A spreadsheet's day number. */
  serial?: string;
};

/**
 * The patterns of a date field as SQL on `text`.
 * @see ECMA-376, part 1, 18.17.4.1: days count from 1900 or from 1904; the 1900 system has a 29 February 1900, so that the days after it
 * count from 1899-12-30
 */
export function dateSql(text: string, patterns: string[], { trueDates, dateSystem }: Cells): DateSql {
  const declared = patterns.filter((pattern) => !isSerial(pattern));
  const system = patterns.find(isSerial) ?? (dateSystem === undefined ? undefined : (`serial-${dateSystem}` as Serial));
  const numeric = declared.find((pattern) => swapped(pattern) !== undefined);
  const others = declared.filter((pattern) => pattern !== numeric).map((pattern) => dayByPattern(text, pattern));
  return {
    other: `coalesce(${["null", ...others, ...(trueDates ? [trueDate(text)] : [])].join(", ")})::date`,
    ...(system === undefined ? {} : { serial: daySerial(text, system) }),
    ...(numeric === undefined
      ? {}
      : {
          numeric: {
            day: `${dayByPattern(text, numeric)}::date`,
            swapped: `${dayByPattern(text, swapped(numeric) ?? "")}::date`,
          },
        }),
  };
}

/** The pattern with day and month in each other's place, where both are numbers. */
function swapped(pattern: string): string | undefined {
  if (!(/%-?d/.test(pattern) && /%-?m/.test(pattern))) return undefined;
  if (/^%-?Y/.test(pattern)) return undefined; // the year first, the day never comes before the month
  return pattern.replace(/%(-?)([dm])/g, (_, dash: string, letter: string) => `%${dash}${letter === "d" ? "m" : "d"}`);
}

/**
 * SQL of the day that a pattern reads, NULL where it reads none; months by name in English, as the engine has them, German, French and
 * Spanish. A failing parse is five times as slow as a good one: it is tried only where the pattern's first sign of its own is there.
 */
export function dayByPattern(text: string, pattern: string): string {
  if (pattern.endsWith("%z")) return dayBeforeZone(text, pattern.replace(/ ?%z$/, ""));
  const sign = /[^\s%]/.exec(pattern.replace(/%-?./g, ""))?.[0];
  const engines = `try_strptime(${text}, ${quoteText(pattern)})`;
  const parsed = namesMonth(pattern)
    ? `coalesce(${engines}, try_strptime(${monthInFigures(text)}, ${quoteText(patternInFigures(pattern))}))`
    : engines;
  return sign === undefined ? parsed : `case when contains(${text}, ${quoteText(sign)}) then ${parsed} end`;
}

const ZONE = quoteText("(:[0-9.]+) ?(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)$");

/** A time with its zone happened on the day that is written; the engine would turn it into a day somewhere else. */
function dayBeforeZone(text: string, pattern: string): string {
  const local = dayByPattern(`regexp_replace(${text}, ${ZONE}, '\\1')`, pattern);
  return `case when regexp_matches(${text}, ${ZONE}) then ${local} end`;
}

/** Five figures: every day of a job card has them in both systems. */
function daySerial(text: string, system: Serial): string {
  const whole = `try_cast(regexp_extract(${text}, '^([0-9]{5})([.,][0-9]*)?$', 1) as integer)`;
  return `case when length(${text}) < 5 or ${text} < '0' or ${text} > '9999999' then null else date '${SERIAL[system]}' + ${whole} end`;
}

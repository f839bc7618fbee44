import type { ColumnProfile, Shape } from "./column-profile.ts";

/** Dates with the month's name, short or whole. */
export const MONTH_NAME_PATTERNS = [
  "%d %b %Y",
  "%d. %b %Y",
  "%d-%b-%Y",
  "%d/%b/%Y",
  "%d.%b.%Y",
  "%d %b %y",
  "%d. %b %y",
  "%d-%b-%y",
  "%d/%b/%y",
  "%d.%b.%y",
  "%b %d, %Y",
  "%d de %b de %Y",
];

/** The pattern of what stands behind a day: nothing, or a time, with or without a zone; none where it is something else. */
function timePattern(rest: string): string | undefined {
  if (rest === "" || rest === "a99") return "";
  const found = /^( |a)9{1,2}:99(:99)?(\.9{1,6})?( ?)(@|~|[-+]99(?::?99)?)?$/.exec(rest);
  if (found === null) return undefined;
  const [, before, seconds, part, gap = "", behind] = found;
  if (part !== undefined && seconds === undefined) return undefined;
  const hours = `${before === "a" ? "T" : " "}${behind === "@" ? "%I" : "%H"}:%M`;
  const zone = behind === undefined ? "" : `${gap}${behind === "@" ? "%p" : "%z"}`;
  return `${hours}${seconds === undefined ? "" : ":%S"}${part === undefined ? "" : ".%f"}${zone}`;
}

/** A date outline with the day and the month both in figures, in an order that it does not tell. */
export type Ordered = Shape & { separator: string; year: "%Y" | "%y"; time: string };

/** Outlines in which day or month comes first. */
export function orderedShapes({ shapes }: ColumnProfile): Ordered[] {
  return shapes.flatMap((shape) => {
    const found = /^9{1,2}([./-])9{1,2}([./-])(9{4}|9{2})(.*)$/.exec(shape.shape);
    if (found === null || found[1] !== found[2]) return [];
    const time = timePattern(found[4] ?? "");
    if (time === undefined || shape.impossible * 2 > shape.count) return [];
    return [{ ...shape, separator: found[1]!, year: found[3]?.length === 4 ? "%Y" : "%y", time }];
  });
}

/** Patterns that leave nothing open, with the cells that match. */
export function plainPatterns(column: ColumnProfile): { pattern: string; count: number }[] {
  const shapes = column.shapes.flatMap(({ shape, count }) => {
    const found = /^9999([-/.])99([-/.])99(.*)$/.exec(shape);
    const time = found === null ? undefined : timePattern(found[3] ?? "");
    if (found === null || time === undefined || found[1] !== found[2]) return [];
    return [{ pattern: `%Y${found[1]}%m${found[1]}%d${time}`, count }];
  });
  const names = Object.entries(column.named).flatMap(([pattern, count]) => (count > 0 ? [{ pattern, count }] : []));
  const counts = new Map<string, number>();
  for (const { pattern, count } of [...shapes, ...names, ...compact(column)])
    counts.set(pattern, (counts.get(pattern) ?? 0) + count);
  return [...counts].map(([pattern, count]) => ({ pattern, count }));
}

/** Eight figures that are a year, a month and a day. */
function compact({ shapes, numbers }: ColumnProfile): { pattern: string; count: number }[] {
  const count = shapes.find(({ shape }) => shape === "99999999")?.count ?? 0;
  const isDay = numbers.low5 > 19_500_100 && numbers.high95 < 20_991_232;
  return count > 0 && isDay ? [{ pattern: "%Y%m%d", count }] : [];
}

/** Cells that a spreadsheet's day number may be: five figures, 1954 to 2064. */
export function serialCells({ shapes, numbers }: ColumnProfile): number {
  const count = shapes
    .filter(({ shape }) => /^9{5}([.,]9+)?$/.test(shape))
    .reduce((sum, shape) => sum + shape.count, 0);
  return numbers.low5 >= 20_000 && numbers.high95 <= 60_000 ? count : 0;
}

/** Cells that look like a date by any of these. */
export function dateCells(column: ColumnProfile): number {
  const ordered = orderedShapes(column).reduce((sum, { count, impossible }) => sum + count - impossible, 0);
  return Math.min(
    column.filled,
    plainPatterns(column).reduce((sum, { count }) => sum + count, ordered),
  );
}

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

const TIMES: Record<string, string> = {
  "": "",
  " 99:99": " %H:%M",
  " 99:99:99": " %H:%M:%S",
  a99: "",
  "a99:99": "T%H:%M",
  "a99:99:99": "T%H:%M:%S",
};

/** A date outline with the day and the month both in figures, in an order that it does not tell. */
export type Ordered = Shape & { separator: string; year: "%Y" | "%y"; time: string };

/** Outlines in which day or month comes first. */
export function orderedShapes({ shapes }: ColumnProfile): Ordered[] {
  return shapes.flatMap((shape) => {
    const found = /^9{1,2}([./-])9{1,2}([./-])(9{4}|9{2})(.*)$/.exec(shape.shape);
    if (found === null || found[1] !== found[2]) return [];
    const time = TIMES[(found[4] ?? "").replace(/^ 9:/, " 99:")];
    if (time === undefined || shape.impossible * 2 > shape.count) return [];
    return [{ ...shape, separator: found[1]!, year: found[3]?.length === 4 ? "%Y" : "%y", time }];
  });
}

/** Patterns that leave nothing open, with the cells that match. */
export function plainPatterns(column: ColumnProfile): { pattern: string; count: number }[] {
  const shapes = column.shapes.flatMap(({ shape, count }) => {
    const found = /^9999([-/.])99([-/.])99(.*)$/.exec(shape);
    const time = found === null ? undefined : TIMES[found[3] ?? ""];
    if (found === null || time === undefined || found[1] !== found[2]) return [];
    return [{ pattern: `%Y${found[1]}%m${found[1]}%d${time}`, count }];
  });
  const names = Object.entries(column.named).flatMap(([pattern, count]) => (count > 0 ? [{ pattern, count }] : []));
  return [...shapes, ...names, ...compact(column)];
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

import type { ColumnProfile } from "./column-profile.ts";
import { dateCells } from "./date-patterns.ts";
import type { Opinion } from "./opinion.ts";
import { countedAs } from "./shown.ts";

export type Marks = { decimal_mark: "." | ","; thousands_mark?: "," | "." | " " | "'" };

type Votes = { decimal: number; three: number; grouped: number };

/** The decimal mark of a file, and the mark between thousands, by the outlines of all its numbers. */
export function guessMarks(columns: ColumnProfile[]): Opinion<Marks> {
  const numeric = columns.filter((column) => dateCells(column) * 2 < column.filled);
  const comma = votesFor(numeric, ",", "\\.");
  const point = votesFor(numeric, "\\.", ",");
  const spaced = countOf(numeric, /^[-+]?9{1,3}([ \u00a0\u202f]999)+([.,]9+)?$/u);
  const ticked = countOf(numeric, /^[-+]?9{1,3}('999)+([.,]9+)?$/);
  const isComma = comma.decimal + comma.grouped > point.decimal + point.grouped;
  const [own, other] = isComma ? [comma, point] : [point, comma];
  const mark = isComma ? "," : ".";
  const grouping =
    own.grouped > 0 || other.three > 0 ? (isComma ? "." : ",") : ticked > 0 ? "'" : spaced > 0 ? " " : undefined;
  const value: Marks =
    grouping === undefined ? { decimal_mark: mark } : { decimal_mark: mark, thousands_mark: grouping };
  const seen = own.decimal + own.grouped;
  return {
    value,
    evidence: evidenceOf(mark, seen, other.decimal + other.grouped),
    questions: openMark(value, seen, other),
  };
}

function evidenceOf(mark: string, seen: number, against: number): string {
  const name = mark === "," ? "comma" : "point";
  if (seen === 0) return "no number has decimals";
  return `${countedAs(seen, "number", "has", "have")} a decimal ${name}${against > 0 ? `, ${against} the other mark` : ""}`;
}

/** "1,234" alone may be a thousand or one and a bit. */
function openMark({ thousands_mark }: Marks, seen: number, { three }: Votes): Opinion<Marks>["questions"] {
  if (three === 0 || seen > 0 || thousands_mark === undefined) return [];
  const text = `${countedAs(three, "number", "has", "have")} a mark before three figures only ("1${thousands_mark}234"): taken as thousands; if it is the decimal mark, set decimal_mark: "${thousands_mark}" and take thousands_mark out`;
  return [{ id: "decimal_mark", text, options: [], cells: three }];
}

/** What speaks for a mark as the decimal one: figures behind it that aren't three, or a 0 alone before it. */
function votesFor(columns: ColumnProfile[], mark: string, other: string): Votes {
  const any = new RegExp(`^[-+]?9*${mark}9+$`);
  const three = new RegExp(`^[-+]?9{1,3}(${mark}999)+$`);
  const grouped = new RegExp(`^[-+]?9{1,3}(${other}999)+${mark}9+$`);
  const leading = new RegExp(`^[-+]?0?${mark}\\d{3}$`);
  const small = columns.reduce(
    (sum, { words }) => sum + words.reduce((total, { text, count }) => total + (leading.test(text) ? count : 0), 0),
    0,
  );
  const threes = countOf(columns, three);
  const once = countOf(columns, new RegExp(`^[-+]?9{1,3}${mark}999$`));
  return { decimal: countOf(columns, any) - once + small, three: threes - small, grouped: countOf(columns, grouped) };
}

function countOf(columns: ColumnProfile[], pattern: RegExp): number {
  return columns.reduce(
    (sum, { shapes }) => sum + shapes.reduce((total, { shape, count }) => total + (pattern.test(shape) ? count : 0), 0),
    0,
  );
}

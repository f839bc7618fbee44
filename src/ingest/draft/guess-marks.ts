import type { ColumnProfile } from "./column-profile.ts";
import { dateCells, orderedShapes } from "./date-patterns.ts";
import { headerScore, headerTokens } from "./header-words.ts";
import type { Opinion } from "./opinion.ts";
import { columnName, counted, countedAs, shown } from "./shown.ts";

type Mark = "." | ",";
export type Marks = { decimal_mark: Mark; thousands_mark?: "," | "." | " " | "'" };

/** Numbers that a mark is the decimal one of, those with it once before three figures, several times so, and with the other in between. */
type Votes = { decimal: number; once: number; again: number; grouped: number };

/** The decimal mark of a file, and the mark between thousands, by the outlines of all its numbers. */
export function guessMarks(columns: ColumnProfile[]): Opinion<Marks> {
  const numeric = columns.filter((column) => dateCells(column) * 2 < column.filled);
  const votes = { ",": votesFor(numeric, ","), ".": votesFor(numeric, ".") };
  const told = (mark: Mark) => votes[mark].decimal + votes[mark].grouped;
  const open = told(",") + told(".") + votes[","].again + votes["."].again === 0 ? openOf(columns, votes) : undefined;
  const mark = open?.decimal ?? (told(",") + votes["."].again > told(".") + votes[","].again ? "," : ".");
  const other = otherThan(mark);
  const grouping = groupingOf(numeric, votes, mark);
  const value: Marks =
    grouping === undefined ? { decimal_mark: mark } : { decimal_mark: mark, thousands_mark: grouping };
  return {
    value,
    evidence: evidenceOf(mark, told(mark), told(other)),
    questions: open === undefined ? threesOf(numeric, mark) : [questionOf(numeric, votes, open)],
  };
}

function otherThan(mark: Mark): Mark {
  return mark === "," ? "." : ",";
}

function groupingOf(columns: ColumnProfile[], votes: Record<Mark, Votes>, mark: Mark): Marks["thousands_mark"] {
  const other = otherThan(mark);
  if (votes[mark].grouped + votes[other].once + votes[other].again > 0) return other;
  if (countOf(columns, numberLike("9{1,3}('999)+([.,]9+)?")) > 0) return "'";
  return countOf(columns, numberLike("9{1,3}([ \u00a0\u202f]999)+([.,]9+)?")) > 0 ? " " : undefined;
}

function evidenceOf(mark: Mark, seen: number, against: number): string {
  if (seen === 0) return "no number has decimals";
  return `${countedAs(seen, "number", "has", "have")} a decimal ${nameOf(mark)}${against > 0 ? `, ${against} the other mark` : ""}`;
}

function nameOf(mark: Mark): string {
  return mark === "," ? "comma" : "point";
}

type Open = { mark: Mark; decimal: Mark; why: string };

/** "1,234" or "1.234" alone may be a thousand or one and a bit: what else the file says, for a question. */
function openOf(columns: ColumnProfile[], votes: Record<Mark, Votes>): Open | undefined {
  if (votes[","].once + votes["."].once === 0) return undefined;
  const mark = votes["."].once > votes[","].once ? "." : ",";
  const marked = columns.filter((column) => countOf([column], once(mark)) > 0);
  const meter = marked.find(isMeter);
  if (meter !== undefined)
    return {
      mark,
      decimal: otherThan(mark),
      why: `${columnName(meter.header, meter.place)} is a meter, read in hours`,
    };
  const large = marked.find((column) => countOf([column], /^9{4,}$/) > 0);
  if (large !== undefined)
    return { mark, decimal: otherThan(mark), why: `${columnName(large.header, large.place)} has numbers over 999` };
  const points = columns.some(hasPointedDates);
  const why = points ? "its dates are written with points" : "no date is written with points";
  return { mark, decimal: points ? "," : ".", why };
}

const METERS = [
  ["rebuild", "hours_removed"],
  ["rebuild", "hours_installed"],
  ["reading", "hours"],
  ["reading", "old_meter_hours"],
] as const;

function isMeter({ header }: ColumnProfile): boolean {
  const tokens = headerTokens(header);
  return METERS.some(([kind, field]) => headerScore(kind, field, tokens) >= 2);
}

/** Whole dates, day first, with points between: written where the decimal mark is a comma. */
function hasPointedDates(column: ColumnProfile): boolean {
  const dotted = orderedShapes(column).filter(({ separator }) => separator === ".");
  const sum = (of: "count" | "firstOver12" | "secondOver12") => dotted.reduce((total, shape) => total + shape[of], 0);
  return sum("count") * 2 > column.filled && sum("secondOver12") <= sum("firstOver12");
}

function questionOf(columns: ColumnProfile[], votes: Record<Mark, Votes>, { mark, decimal, why }: Open) {
  const cells = votes[mark].once;
  const number = countedAs(cells, "number", "has", "have");
  const seen = `${number} a ${nameOf(mark)} before exactly three figures${exampleOf(columns, mark)}, and none has other decimals`;
  const other = otherThan(mark);
  const text =
    decimal === mark
      ? `${seen}: taken as the decimal mark, for ${why}; if it stands between thousands, set decimal_mark: "${other}" and thousands_mark: "${mark}"`
      : `${seen}: taken as thousands, for ${why}; if it is the decimal mark, set decimal_mark: "${mark}" and take thousands_mark out`;
  return { id: "decimal_mark", text, options: [], cells };
}

function exampleOf(columns: ColumnProfile[], mark: Mark): string {
  const like = new RegExp(`^[-+]?\\d{1,3}[${mark}]\\d{3}\\b`);
  const example = columns.flatMap(({ words }) => words).find(({ text }) => like.test(text));
  return example === undefined ? "" : ` (${shown(example.text)})`;
}

/** A meter is not read to the thousandth of an hour: where all its decimals are three, they may be thousands, whatever the other columns write. */
function threesOf(columns: ColumnProfile[], mark: Mark): Opinion<Marks>["questions"] {
  return columns.filter(isMeter).flatMap((column) => {
    const { once: cells, decimal } = votesFor([column], mark);
    if (cells < 3 || decimal > 0) return [];
    const text = `${columnName(column.header, column.place)} has a ${nameOf(mark)} before exactly three figures in ${counted(cells, "cell")}${exampleOf([column], mark)}, and other columns have decimals behind one: taken as the decimal mark; if those are thousands, the export writes numbers in two ways, and these cells must be exported without the ${nameOf(mark)}`;
    return [{ id: `decimal_mark.${column.place}`, text, options: [], cells }];
  });
}

/** What speaks for a mark as the decimal one: figures behind it that aren't three, or a 0 alone before it. */
function votesFor(columns: ColumnProfile[], mark: Mark): Votes {
  const [own, other] = [`[${mark}]`, `[${otherThan(mark)}]`];
  const zero = new RegExp(`^[-+]?0${own}\\d{3}( ?\\p{L}+)?$`, "u");
  const zeros = columns.reduce(
    (sum, { words }) => sum + words.reduce((total, { text, count }) => total + (zero.test(text) ? count : 0), 0),
    0,
  );
  const threes = countOf(columns, once(mark));
  const apart = countOf(columns, numberLike(`9{1,3}([ '\u00a0\u202f]999)+${own}9+`));
  return {
    decimal: countOf(columns, numberLike(`9*${own}9+`)) - threes + zeros + apart,
    once: threes - zeros,
    again: countOf(columns, numberLike(`9{1,3}(${own}999){2,}`)),
    grouped: countOf(columns, numberLike(`9{1,3}(${other}999)+${own}9+`)),
  };
}

function once(mark: Mark): RegExp {
  return numberLike(`9{1,3}[${mark}]999`);
}

/** The outline of a number, with or without a unit behind it. */
function numberLike(figures: string): RegExp {
  return new RegExp(`^[-+]?${figures}( ?a[.]?)?$`, "u");
}

function countOf(columns: ColumnProfile[], pattern: RegExp): number {
  return columns.reduce(
    (sum, { shapes }) => sum + shapes.reduce((total, { shape, count }) => total + (pattern.test(shape) ? count : 0), 0),
    0,
  );
}

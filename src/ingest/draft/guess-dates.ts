import type { ColumnProfile } from "./column-profile.ts";
import { type Ordered, orderedShapes, plainPatterns, serialCells } from "./date-patterns.ts";
import { type Answers, answerOf, type Opinion, type Question } from "./opinion.ts";
import { columnName, counted, countedAs } from "./shown.ts";

/** Cells of all date columns of a file that can only be day first, and only month first. */
export type DateVotes = { dayFirst: number; monthFirst: number };

export function dateVotes(columns: ColumnProfile[]): DateVotes {
  const all = columns.flatMap((column) =>
    orderedShapes(column).filter(({ count, impossible }) => impossible * 2 < count),
  );
  return votesOf(all);
}

function votesOf(shapes: Ordered[]): DateVotes {
  return {
    dayFirst: shapes.reduce((sum, { firstOver12 }) => sum + firstOver12, 0),
    monthFirst: shapes.reduce((sum, { secondOver12 }) => sum + secondOver12, 0),
  };
}

export type DateContext = { field: string; votes: DateVotes; answers: Answers; dateSystem?: 1900 | 1904 };

/** The patterns of a date column, the order of day and month by all of its cells, else by the file's other dates. */
export function guessDates(column: ColumnProfile, context: DateContext): Opinion<string[]> {
  const ordered = orderedShapes(column).filter(isWorth(column));
  const plain = plainPatterns(column).filter(
    ({ pattern, count }) => !pattern.endsWith("%y") || count * 20 > column.filled,
  );
  const serials = serialCells(column);
  const order = ordered.length === 0 ? undefined : orderOf(column, ordered, context);
  const numeric = [
    ...new Set(ordered.map(({ separator, year, time }) => patternOf(order?.value !== "month", separator, year, time))),
  ];
  const others = [...new Set(plain.map(({ pattern }) => pattern))];
  const serial = serials > 0 ? [`serial-${context.dateSystem ?? 1900}`] : [];
  const value = [...numeric, ...others, ...serial];
  const evidence = [
    ...(order === undefined ? [] : [order.evidence]),
    ...plain.map(({ pattern, count }) => `${countedAs(count, "cell", "is", "are")} ${pattern}`),
    ...(serials > 0
      ? [`${countedAs(serials, "cell", "is a spreadsheet's day number", "are a spreadsheet's day numbers")}`]
      : []),
  ].join("; ");
  if (value.length === 0) return nothing(column, context);
  return { value, evidence, questions: [...(order?.questions ?? []), ...rare(column, context)] };
}

/** Two figures for the year stand for a century that is not said: taken where they are no exception, however many figures the day has. */
function isWorth(column: ColumnProfile) {
  const counts = new Map<string, number>();
  const form = ({ separator, time }: Ordered) => `${separator} ${time}`;
  for (const shape of orderedShapes(column))
    if (shape.year === "%y") counts.set(form(shape), (counts.get(form(shape)) ?? 0) + shape.count);
  return (shape: Ordered) => shape.year === "%Y" || (counts.get(form(shape)) ?? 0) * 20 > column.filled;
}

function patternOf(dayFirst: boolean, separator: string, year: string, time: string): string {
  const days = dayFirst ? ["%d", "%m"] : ["%m", "%d"];
  return `${[...days, year].join(separator)}${time}`;
}

type DateOrder = "day" | "month";

function orderOf(
  column: ColumnProfile,
  ordered: Ordered[],
  { field, votes, answers }: DateContext,
): Opinion<DateOrder> {
  const id = `${field}.dates`;
  const answer = answerOf(answers, id);
  if (answer === "day first" || answer === "month first") {
    return { value: answer === "day first" ? "day" : "month", evidence: `${answer}, as answered`, questions: [] };
  }
  const own = votesOf(ordered);
  return own.dayFirst + own.monthFirst > 0 ? byOwn(column, own, id) : byOthers(column, ordered, votes, id);
}

/** A part over 12 can only be the day: it decides for the whole column. */
function byOwn(column: ColumnProfile, { dayFirst, monthFirst }: DateVotes, id: string): Opinion<DateOrder> {
  const value = dayFirst >= monthFirst ? "day" : "month";
  const [most, fewest] = value === "day" ? [dayFirst, monthFirst] : [monthFirst, dayFirst];
  const evidence = `${value} first: in ${counted(most, "cell")} the ${value === "day" ? "first" : "second"} number is over 12`;
  if (fewest === 0) return { value, evidence, questions: [] };
  const text = `${columnName(column.header, column.place)} has days both ways: ${counted(most, "cell")} can only be ${value} first, ${fewest} only the other; the latter will be refused`;
  return { value, evidence, questions: [question(id, value, text, most + fewest)] };
}

/** The column alone does not tell: the file's other dates, else the mark between, else a question. */
function byOthers(column: ColumnProfile, ordered: Ordered[], votes: DateVotes, id: string): Opinion<DateOrder> {
  const name = columnName(column.header, column.place);
  if (votes.dayFirst !== votes.monthFirst) {
    const value = votes.dayFirst > votes.monthFirst ? "day" : "month";
    const most = Math.max(votes.dayFirst, votes.monthFirst);
    const evidence = `no cell of its own tells; ${value} first, as ${counted(most, "cell")} of the file's other dates ${most === 1 ? "is" : "are"}`;
    return { value, evidence, questions: [] };
  }
  if (ordered.every(({ separator }) => separator === ".")) {
    return {
      value: "day",
      evidence: "no cell tells day from month; day first, as dates with points are written",
      questions: [],
    };
  }
  const cells = ordered.reduce((sum, { count }) => sum + count, 0);
  const text = `no cell of the file tells whether ${name} has the day or the month first`;
  return { value: "day", evidence: "no cell tells day from month", questions: [question(id, "day", text, cells)] };
}

function question(id: string, value: DateOrder, text: string, cells: number): Question {
  const options = value === "day" ? ["day first", "month first"] : ["month first", "day first"];
  return { id, text, options, cells };
}

function nothing(column: ColumnProfile, { field }: DateContext): Opinion<string[]> {
  const name = columnName(column.header, column.place);
  const text = `${name} ${column.filled === 0 ? "is empty here" : "holds no date that could be read"}; give its pattern if it is not YYYY-MM-DD`;
  return {
    value: ["%Y-%m-%d"],
    evidence: "no cell tells its pattern",
    questions: [{ id: `${field}.dates`, text, options: [], cells: column.filled }],
  };
}

/** Dates of a form that is left out. */
function rare(column: ColumnProfile, { field }: DateContext): Question[] {
  const worth = isWorth(column);
  const left = orderedShapes(column).filter((shape) => !worth(shape));
  const cells = left.reduce((sum, { count }) => sum + count, 0);
  if (cells === 0) return [];
  const text = `${counted(cells, "cell")} of ${columnName(column.header, column.place)} ${cells === 1 ? "has" : "have"} two figures for the year and will be refused unless a pattern with %y is added`;
  return [{ id: `${field}.short_years`, text, options: [], cells }];
}

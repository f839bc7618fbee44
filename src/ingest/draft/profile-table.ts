import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { quoteText } from "../../store/quote.ts";
import { csvSource, sourceColumn } from "../export/csv-source.ts";
import type { OpenExport } from "../export/open-export.ts";
import { dayByPattern } from "../mapping/date-sql.ts";
import { trimmed } from "../mapping/field-sql.ts";
import { plainNumber } from "../mapping/number-sql.ts";
import type { ColumnProfile, Numbers, Shape, TableProfile, Word } from "./column-profile.ts";
import { MONTH_NAME_PATTERNS } from "./date-patterns.ts";
import type { Marks } from "./guess-marks.ts";

/** Rows beyond which a sample is looked at. */
export const MOST_ROWS = 200_000;
/** Columns beyond these are listed, not looked at. */
const MOST_PROFILED = 2000;
const MOST_WORDS = 300;
/** Longer texts are no words. */
const LONGEST_WORD = 200;
const MOST_SHAPES = 60;

/** Rows of a table, and those looked at where they are a sample. */
export type Size = { rows: number; sampled?: number };

/**
 * Makes the temporary table `cells` of the rows below the headers of `files`, all of one header: c0, c1, ... without outer blanks,
 * `file`, the place of the file, and `filled`, the number of cells that hold something. Blank rows and repeated headers are left out.
 */
export async function loadCells(connection: DuckDBConnection, files: OpenExport[]): Promise<Size> {
  const each = Math.ceil(MOST_ROWS / files.length);
  const parts = files.map((file, index) => {
    const cells = file.header.map((_, index) => `${trimmed(sourceColumn(index))} as ${sourceColumn(index)}`);
    const below = `select * exclude (nth) from (select row_number() over () as nth, * from ${csvSource(file)}) where nth > ${file.above + file.headerRecords}`;
    const rows =
      (file.records ?? 0) > each ? `(${below}) using sample reservoir(${each} rows) repeatable (1)` : `(${below})`;
    return `select ${index} as file, ${cells.join(", ")} from ${rows}`;
  });
  const first = files[0]!;
  const names = first.header.map((_, index) => sourceColumn(index));
  const filled = `list_aggregate([${names.join(", ")}], 'count')`; // a sum of thousands of terms is too deep for the engine
  await connection.run(
    `create or replace temp table cells as select *, ${filled} as filled from (${parts.join(" union all ")}) where not (${headerAgain(first)}) and (${filled}) > 0`,
  );
  const { loaded } = await columns(connection, "select count(*)::integer as loaded from cells", { loaded: "integer" });
  const below = files.map((file) => Math.max(0, (file.records ?? 0) - file.above - file.headerRecords));
  const isSampled = files.some((file) => (file.records ?? 0) > each);
  const rows = loaded[0] ?? 0;
  return isSampled ? { rows: below.reduce((sum, count) => sum + count, 0), sampled: rows } : { rows };
}

function headerAgain({ header, headerRecords }: OpenExport): string {
  const named = header.flatMap((name, index) =>
    name === "" ? [] : [`${sourceColumn(index)} is not distinct from ${quoteText(name)}`],
  );
  return headerRecords === 0 || named.length === 0 ? "false" : named.slice(0, 3).join(" and ");
}

/** Profiles the table `cells`. @param marks - of its numbers */
export async function profileTable(
  connection: DuckDBConnection,
  header: string[],
  size: Size,
  marks: Marks,
): Promise<TableProfile> {
  const looked = header.slice(0, MOST_PROFILED);
  const enough = await fullRows(connection, header.length);
  const names = looked.map((_, index) => sourceColumn(index)).join(", ");
  await connection.run(
    `create or replace temp table cell as
     select substr(name, 2)::integer as place, text, count(*)::integer as n
     from (from cells where filled >= ${enough}) unpivot (text for name in (${names})) group by all`,
  );
  const contents = await contentsOf(connection, looked.length, marks);
  const profiles = looked.map((name, index): ColumnProfile => {
    const stands = header.filter((other) => comparable(other) === comparable(name)).length;
    return { place: index + 1, header: name, key: name === "" || stands > 1 ? index + 1 : name, ...contents[index]! };
  });
  return {
    ...size,
    scant: await scantWords(connection, enough),
    columns: profiles,
  };
}

/** Headers are compared as pipelines do: case and blanks don't count. */
function comparable(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}

/** Rows with fewer cells than this are totals or ends of lists, not records. */
async function fullRows(connection: DuckDBConnection, width: number): Promise<number> {
  const { usual } = await columns(connection, "select coalesce(median(filled), 0)::integer as usual from cells", {
    usual: "integer",
  });
  const median = usual[0] ?? 0;
  return width >= 3 && median >= 3 ? Math.max(2, Math.ceil(median / 4)) : 1;
}

/** The first words of rows with next to nothing in them. */
async function scantWords(connection: DuckDBConnection, enough: number): Promise<Word[]> {
  const found = await columns(
    connection,
    `select lower(c0) as text, count(*)::integer as count from cells where filled < ${enough} and regexp_full_match(c0, '[^0-9]*\\p{L}[^0-9]*') group by 1 order by 2 desc, 1 limit 10`,
    { text: "text", count: "integer" },
  );
  return found.text.map((text, index) => ({ text, count: found.count[index]! }));
}

type Contents = Omit<ColumnProfile, "place" | "header" | "key">;

const NO_NUMBERS: Numbers = {
  count: 0,
  withUnit: 0,
  decimals: 0,
  low: Number.NaN,
  low5: Number.NaN,
  quarter: Number.NaN,
  median: Number.NaN,
  threeQuarters: Number.NaN,
  high95: Number.NaN,
  high: Number.NaN,
};

/** What each column holds, of the table `cell`: its distinct texts with the number of cells. */
async function contentsOf(connection: DuckDBConnection, width: number, marks: Marks): Promise<Contents[]> {
  const contents = Array.from(
    { length: width },
    (): Contents => ({
      filled: 0,
      distinct: 0,
      averageLength: 0,
      upper: 0,
      lettered: 0,
      words: [],
      shapes: [],
      named: {},
      numbers: NO_NUMBERS,
    }),
  );
  await addSizes(connection, contents);
  await addWords(connection, contents);
  await addShapes(connection, contents);
  await addMonthNames(connection, contents);
  await addNumbers(connection, contents, marks);
  return contents;
}

async function addSizes(connection: DuckDBConnection, contents: Contents[]): Promise<void> {
  const found = await columns(
    connection,
    `select place, sum(n)::integer as filled, count(*)::integer as texts, (sum(n * length(text)) / sum(n))::double as length,
       coalesce(sum(n) filter (regexp_matches(text, '\\p{L}') and text = upper(text)), 0)::integer as upper,
       coalesce(sum(n) filter (regexp_matches(text, '\\p{L}')), 0)::integer as lettered
     from cell group by place`,
    { place: "integer", filled: "integer", texts: "integer", length: "number", upper: "integer", lettered: "integer" },
  );
  for (const [index, place] of found.place.entries()) {
    const [filled, distinct, averageLength] = [found.filled[index]!, found.texts[index]!, found.length[index]!];
    Object.assign(contents[place]!, {
      filled,
      distinct,
      averageLength,
      upper: found.upper[index]!,
      lettered: found.lettered[index]!,
    });
  }
}

async function addWords(connection: DuckDBConnection, contents: Contents[]): Promise<void> {
  const found = await columns(
    connection,
    `select * from (select place, trim(regexp_replace(arg_max(text, n), '\\s+', ' ', 'g')) as text, sum(n)::integer as count from cell where length(text) <= ${LONGEST_WORD} group by place, lower(regexp_replace(text, '\\s+', ' ', 'g')))
     qualify row_number() over (partition by place order by count desc, text) <= ${MOST_WORDS} order by place, count desc, text`,
    { place: "integer", text: "text", count: "integer" },
  );
  for (const [index, place] of found.place.entries())
    contents[place]!.words.push({ text: found.text[index]!, count: found.count[index]! });
}

async function addShapes(connection: DuckDBConnection, contents: Contents[]): Promise<void> {
  const number = (pattern: string) => `try_cast(regexp_extract(text, '${pattern}', 1) as integer)`;
  const sum = (condition: string) => `coalesce(sum(n) filter (${condition}), 0)::integer`;
  const timed = `regexp_replace(regexp_replace(substr(text, 1, 40), '(:[0-9]{2} ?)[ap]m$', '\\1@', 'i'), '(:[0-9.]+)Z$', '\\1~')`;
  const found = await columns(
    connection,
    `select * from (select place, regexp_replace(regexp_replace(${timed}, '[0-9]', '9', 'g'), '\\p{L}+', 'a', 'g') as shape, sum(n)::integer as count,
       ${sum("one > 12 and two <= 12")} as first_over, ${sum("two > 12 and one <= 12")} as second_over,
       ${sum("one > 31 or two > 31 or one < 1 or two < 1 or (one > 12 and two > 12)")} as impossible
     from (select *, ${number("^[^0-9]*([0-9]{1,2})")} as one, ${number("^[^0-9]*[0-9]+[^0-9]+([0-9]{1,2})")} as two from cell)
     group by 1, 2) qualify row_number() over (partition by place order by count desc, shape) <= ${MOST_SHAPES} order by place, count desc, shape`,
    {
      place: "integer",
      shape: "text",
      count: "integer",
      first_over: "integer",
      second_over: "integer",
      impossible: "integer",
    },
  );
  for (const [index, place] of found.place.entries()) {
    const shape: Shape = {
      shape: found.shape[index]!,
      count: found.count[index]!,
      firstOver12: found.first_over[index]!,
      secondOver12: found.second_over[index]!,
      impossible: found.impossible[index]!,
    };
    contents[place]!.shapes.push(shape);
  }
}

// The engine takes two figures for a year of the first century.
const FULL_YEAR = "'[^0-9][0-9]{4}$'";
const SHORT_YEAR = "'[^0-9][0-9]{2}$'";

async function addMonthNames(connection: DuckDBConnection, contents: Contents[]): Promise<void> {
  const counts = MONTH_NAME_PATTERNS.map(
    (pattern, index) =>
      `coalesce(sum(n) filter (${dayByPattern("text", pattern)} is not null and regexp_matches(text, ${pattern.endsWith("%Y") ? FULL_YEAR : SHORT_YEAR})), 0)::integer as p${index}`,
  );
  const shape = Object.fromEntries(MONTH_NAME_PATTERNS.map((_, index) => [`p${index}`, "integer" as const]));
  const found = await columns(
    connection,
    `select place, ${counts.join(", ")} from cell where regexp_full_match(text, '[0-9]{1,2}([. /-]+| de )\\p{L}{3,10}([. /-]+| de )[0-9]{2,4}|\\p{L}{3,9} [0-9]{1,2}, [0-9]{4}') group by place`,
    { place: "integer", ...shape },
  );
  const counted: Record<string, Int32Array> = found;
  for (const [index, place] of found.place.entries()) {
    const named = MONTH_NAME_PATTERNS.map((pattern, at): [string, number] => [
      pattern,
      counted[`p${at}`]?.[index] ?? 0,
    ]);
    contents[place]!.named = Object.fromEntries(named.filter(([, count]) => count > 0));
  }
}

async function addNumbers(connection: DuckDBConnection, contents: Contents[], said: Marks): Promise<void> {
  const marks = { ...said, blank: [] };
  const bare = `case when regexp_matches(text, '^[-+]?[.,]?[0-9]') then regexp_replace(text, '[ ]*(\\p{L}|["\\x27°″”/%])+[.]?$', '') end`;
  const at = (share: number) => `min(value) filter (cumulative >= ${share} * total)`;
  const found = await columns(
    connection,
    `with read as (select place, n, ${plainNumber("text", marks)} as plain, ${plainNumber(`(${bare})`, marks)} as bare from cell),
     valued as (select place, n, plain, coalesce(plain, bare) as value from read where coalesce(plain, bare) is not null),
     ranked as (select *, sum(n) over (partition by place order by value) as cumulative, sum(n) over (partition by place) as total from valued)
     select place, sum(n)::integer as count, coalesce(sum(n) filter (plain is null), 0)::integer as with_unit,
       coalesce(sum(n) filter (value <> floor(value)), 0)::integer as decimals, min(value) as low, max(value) as high,
       ${at(0.05)} as q1, ${at(0.25)} as q2, ${at(0.5)} as q3, ${at(0.75)} as q4, ${at(0.95)} as q5
     from ranked group by place`,
    {
      place: "integer",
      count: "integer",
      with_unit: "integer",
      decimals: "integer",
      low: "number",
      high: "number",
      q1: "number",
      q2: "number",
      q3: "number",
      q4: "number",
      q5: "number",
    },
  );
  for (const [index, place] of found.place.entries()) {
    contents[place]!.numbers = {
      count: found.count[index]!,
      withUnit: found.with_unit[index]!,
      decimals: found.decimals[index]!,
      low: found.low[index]!,
      low5: found.q1[index]!,
      quarter: found.q2[index]!,
      median: found.q3[index]!,
      threeQuarters: found.q4[index]!,
      high95: found.q5[index]!,
      high: found.high[index]!,
    };
  }
}

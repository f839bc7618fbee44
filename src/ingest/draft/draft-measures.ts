import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { quoteText } from "../../store/quote.ts";
import { sourceColumn } from "../export/csv-source.ts";
import { CANONICAL_FIELDS } from "../mapping/canonical-fields.ts";
import { plainNumber } from "../mapping/number-sql.ts";
import { normalWord } from "../mapping/word-sql.ts";
import { measuredField, valueColumn } from "./choose-kind.ts";
import type { ColumnProfile, Numbers, TableProfile, Word } from "./column-profile.ts";
import type { DraftMeasure, SourceEntry } from "./draft.ts";
import { guessMarks, type Marks } from "./guess-marks.ts";
import { guessUnit } from "./guess-unit.ts";
import { type Matched, unitColumn } from "./match-columns.ts";
import type { Answers } from "./opinion.ts";
import { counted, shown } from "./shown.ts";

type Measured = { measures: DraftMeasure[]; columns: ColumnProfile[] };

/** What each word for a measured value fills, and in which unit: by the word, the column of units, or the range of its values. */
export async function draftMeasures(
  connection: DuckDBConnection,
  table: TableProfile,
  { layout, fields }: Matched,
  { answers }: { answers: Answers },
): Promise<Measured> {
  const measure = fields.get("measure")?.column;
  const value = valueColumn(table, fields);
  if (layout !== "measured" || measure === undefined || value === undefined) return { measures: [], columns: [] };
  const unit = unitColumn(table);
  const marks = guessMarks(table.columns).value;
  const measures: DraftMeasure[] = [];
  for (const word of measure.words) {
    const numbers = (text: string) => valuesOf(connection, { measure, value, unit }, text, marks);
    measures.push(await draftMeasure(word, value.key, numbers, answers));
  }
  return { measures, columns: [value, ...(unit === undefined ? [] : [unit])] };
}

async function draftMeasure(
  { text, count }: Word,
  column: string | number,
  valuesIn: (text: string) => Promise<Values>,
  answers: Answers,
): Promise<DraftMeasure> {
  const field = measuredField(text);
  const id = `measures.${normalWord(text)}`;
  const kind = field === undefined ? undefined : CANONICAL_FIELDS.rebuild[field];
  if (field === undefined || kind?.kind !== "number") {
    const question = {
      id,
      text: `${shown(text)} (${counted(count, "row")}) is taken to be of no use here`,
      options: [],
      cells: count,
    };
    return { text, count, entries: [], evidence: "", questions: [question] };
  }
  const { numbers, unitText } = await valuesIn(text);
  const header = unitText === "" ? text : `${text} (${unitText})`;
  const guess = guessUnit(kind, numbers, { key: field, field: id, header, name: shown(text), answers });
  const read = Object.entries(guess.value).map(([key, entry]): SourceEntry => [key, entry]);
  const evidence = `${counted(count, "row")}; ${guess.evidence}`;
  return {
    text,
    count,
    field,
    entries: [["field", field], ["column", column], ...read],
    evidence,
    questions: guess.questions,
  };
}

type Values = { numbers: Numbers; unitText: string };

type Places = { measure: ColumnProfile; value: ColumnProfile; unit: ColumnProfile | undefined };

async function valuesOf(connection: DuckDBConnection, places: Places, word: string, marks: Marks): Promise<Values> {
  const cell = ({ place }: ColumnProfile) => sourceColumn(place - 1);
  const value = plainNumber(cell(places.value), { ...marks, blank: [] });
  const unit = places.unit === undefined ? "null::varchar" : cell(places.unit);
  const found = await columns(
    connection,
    `with of as (select ${value} as value, ${unit} as unit from cells where lower(trim(regexp_replace(${cell(places.measure)}, '\\s+', ' ', 'g'))) = lower(${quoteText(word)})),
     quantiles as (select quantile_disc(value, [0.05, 0.25, 0.5, 0.75, 0.95]) as q from of)
     select count(value)::integer as count, min(value) as low, max(value) as high, coalesce(mode(unit), '') as unit_text,
       any_value(q[1]) as q1, any_value(q[2]) as q2, any_value(q[3]) as q3, any_value(q[4]) as q4, any_value(q[5]) as q5
     from of, quantiles`,
    {
      count: "integer",
      low: "number",
      high: "number",
      unit_text: "text",
      q1: "number",
      q2: "number",
      q3: "number",
      q4: "number",
      q5: "number",
    },
  );
  const at = (name: "low" | "high" | "q1" | "q2" | "q3" | "q4" | "q5") => found[name][0] ?? Number.NaN;
  const numbers: Numbers = {
    count: found.count[0] ?? 0,
    withUnit: 0,
    decimals: 0,
    low: at("low"),
    low5: at("q1"),
    quarter: at("q2"),
    median: at("q3"),
    threeQuarters: at("q4"),
    high95: at("q5"),
    high: at("high"),
  };
  return { numbers, unitText: found.unit_text[0] ?? "" };
}

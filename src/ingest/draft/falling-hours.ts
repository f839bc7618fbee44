import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import { CARD_DATES } from "../mapping/canonical-fields.ts";
import { plainNumber } from "../mapping/number-sql.ts";
import { daySql } from "./date-order.ts";
import type { DraftField } from "./draft.ts";
import type { Marks } from "./guess-marks.ts";
import { type Answers, answerOf, type Question } from "./opinion.ts";
import { columnName } from "./shown.ts";

/** The meter of a unit rises from card to card; where it falls time and again, the column may hold the hours since the last rebuild. */
export async function withFallingHours(
  connection: DuckDBConnection,
  fields: DraftField[],
  marks: Marks,
  answers: Answers,
): Promise<DraftField[]> {
  const [unit, hours] = ["unit", "hours_removed"].map((key) => fields.find((field) => field.key === key)?.column);
  const date = fields.find(({ key, column }) => CARD_DATES.some((name) => name === key) && column !== undefined);
  const patterns = date?.entries.find(([name]) => name === "dates")?.[1];
  const id = "hours_removed.column";
  if (unit === undefined || hours === undefined || date?.column === undefined || !Array.isArray(patterns))
    return fields;
  if (answerOf(answers, id) !== undefined) return fields;
  const { pairs, falls } = await columns(
    connection,
    `with of as (select distinct ${sourceColumn(unit.place - 1)} as unit, ${daySql(sourceColumn(date.column.place - 1), patterns.map(String))} as day,
       ${plainNumber(sourceColumn(hours.place - 1), { ...marks, blank: [] })} as hours from cells),
     followed as (select hours, lag(hours) over (partition by unit order by day, hours) as before from of where unit is not null and day is not null and hours is not null)
     select (count(before))::integer as pairs, (count(*) filter (hours < before))::integer as falls from followed`,
    { pairs: "integer", falls: "integer" },
  );
  const [all, less] = [pairs[0] ?? 0, falls[0] ?? 0];
  if (less < 3 || less * 5 < all) return fields;
  const text = `${columnName(hours.header, hours.place)} is taken for hours_removed, the meter at removal: but in ${less} of ${all} cards it is less than on the unit's card before, as hours since the last rebuild are`;
  const question: Question = { id, text, options: ["yes", "no"], cells: less };
  return fields.map((field) =>
    field.key === "hours_removed"
      ? { ...field, questions: [question, ...field.questions.filter((other) => other.id !== id)], sure: false }
      : field,
  );
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import { daySql } from "./date-order.ts";
import type { Draft } from "./draft.ts";
import type { Question } from "./opinion.ts";
import { counted, plainLine } from "./shown.ts";

/** Fewer are frames that went from one site to another. */
const LEAST = 3;

/** Keeps the units and days of the cards in `cells`, of which `files` names the parts, beside those of other exports. */
export async function keepUnits(connection: DuckDBConnection, draft: Draft, files: string[]): Promise<void> {
  const fleet = draft.fields.find(({ key }) => key === "fleet");
  const unit = draft.fields.find(({ key }) => key === "unit")?.column;
  const day = draft.fields.find(({ key }) => key === "removed_on" || key === "received_on" || key === "built_on");
  const patterns = day?.entries.find(([name]) => name === "dates")?.[1];
  await connection.run(
    "create temp table if not exists unit_day (fleet varchar, file varchar, unit varchar, day date)",
  );
  if (draft.record !== "rebuild" || fleet === undefined || fleet.column !== undefined) return;
  if (unit === undefined || day?.column === undefined || !Array.isArray(patterns)) return;
  await connection.run(`delete from unit_day where file in (select unnest(from_json($files, '["VARCHAR"]')))`, {
    files: JSON.stringify(files),
  });
  await connection.run(
    `insert into unit_day
     select distinct $fleet, from_json($files, '["VARCHAR"]')[file + 1], upper(${sourceColumn(unit.place - 1)}),
            ${daySql(sourceColumn(day.column.place - 1), patterns.map(String))}
     from cells where ${sourceColumn(unit.place - 1)} is not null`,
    { files: JSON.stringify(files), fleet: draft.fleets[0]?.name ?? "" },
  );
}

/** Files of one fleet in which most units are those of another, on other days of the same years, and what to ask of them. */
export async function sharedUnits(connection: DuckDBConnection): Promise<{ file: string; question: Question }[]> {
  await connection.run(
    "create temp table if not exists unit_day (fleet varchar, file varchar, unit varchar, day date)",
  );
  const found = await columns(
    connection,
    `with span as (
       select fleet, file, unit, min(day) as first, max(day) as last, list(day) as days from unit_day where day is not null group by all
     ),
     pair as (
       select a.file as one, b.file as other, not list_has_any(a.days, b.days) and a.first <= b.last and b.first <= a.last as apart
       from span a join span b on a.fleet = b.fleet and a.unit = b.unit and a.file < b.file
     )
     select one, other, count(*) filter (apart)::integer as units from pair group by all
     having count(*) filter (apart) >= ${LEAST} and 2 * count(*) filter (apart) > count(*) order by one, other`,
    { one: "text", other: "text", units: "integer" },
  );
  return found.one.map((file, index) => {
    const other = found.other[index]!;
    const units = found.units[index]!;
    const text = plainLine(
      `${counted(units, "unit")} of ${file} stand in ${other} too, on other days of the same years; they are taken for the same frames: where they are not, put the files of each site into a folder of its own and draft anew`,
    );
    return { file, question: { id: `units.${other}`, text, options: [], cells: units } };
  });
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import { tracedRecords } from "./trace-records.ts";
import type { MergedNumber, StoryLine, TracedRecord } from "./trace-types.ts";
import { count } from "./wording.ts";

/** Every record of a unit in the order of time, with ids to go on from. */
export async function unitRecords(connection: DuckDBConnection, id: string): Promise<TracedRecord[]> {
  const unit = id.slice(id.indexOf("/") + 1); // names of fleets have no stroke
  await runStep(connection, "56_unit_records", { id, unit });
  return tracedRecords(connection, "unit_record", "last");
}

/** Other numbers whose rows are the unit's by the aliases file. */
export async function mergedNumbers(connection: DuckDBConnection, id: string): Promise<MergedNumber[]> {
  const found = await columns(
    connection,
    `select number, because, rows, concat_ws(':', name, first.row) as trace
     from merged_number join source_name on source_name.file_id = first.file_id
     where concat_ws('/', fleet, unit) = $id order by number`,
    { number: "text", because: "text", rows: "integer", trace: "text" },
    { id },
  );
  return found.number.map((number, index) => ({
    number,
    because: found.because[index]!,
    rows: found.rows[index]!,
    trace: found.trace[index]!,
  }));
}

/** How a build ended, in words. */
export function buildEnding(ends: string): string {
  return ENDINGS[ends] ?? `ended by ${ends}`;
}

const ENDINGS: Record<string, string> = {
  end: "not ended",
  retired: "up to the day on which the unit was taken out of use",
  failure: "ended by failure",
  planned: "ended as planned",
  unknown: "ended, for no reason given",
};

/** A build with its ending, as the story of its unit or of its place tells it. */
export type TracedBuild = StoryLine & { unit: string; start: string | null; stop: string | null; ends: string };

/** The builds of a unit or at a position, each with the ids of its lives; the lives must have been derived. */
export async function tracedBuilds(
  connection: DuckDBConnection,
  { kind, id }: { kind: "unit" | "position"; id: string },
): Promise<TracedBuild[]> {
  const found = await columns(
    connection,
    `select i.id, unit, coalesce(i.start_on::varchar, '') as start_on, coalesce(i.stop_on::varchar, '') as stop_on,
            case when ends = 'end' and stop_on = retired_on then 'retired' else ends end as ends,
            coalesce(position, 'no position on record') as position, coalesce(lives, '') as lives
     from installation i
     left join (select fleet, unit, retired_on from known_unit) using (fleet, unit)
     left join (select fleet, unit, build_number, string_agg(id, chr(31) order by life_id) as lives from life group by all) using (fleet, unit, build_number)
     where concat_ws('/', fleet, ${kind}) = $id order by ${kind === "unit" ? "build_number" : "i.start_on nulls first, unit, build_number"}`,
    { id: "text", unit: "text", start_on: "text", stop_on: "text", ends: "text", position: "text", lives: "text" },
    { id },
  );
  return found.id.map((build, index) => {
    const lives = (found.lives[index] ?? "").split("\u001f").filter((life) => life !== "");
    const ends = found.ends[index] ?? "";
    const [start, stop] = [found.start_on[index] || null, found.stop_on[index] || null];
    const at = kind === "unit" ? `, ${found.position[index]}` : "";
    return {
      about: "build",
      value: build,
      words: `${start ?? "start not known"} to ${stop ?? "?"}${at}, ${buildEnding(ends)}: ${count(lives.length, "life", "lives")}`,
      trace: [build, ...lives],
      unit: found.unit[index]!,
      start,
      stop,
      ends,
    };
  });
}

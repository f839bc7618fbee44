import type { DuckDBConnection } from "@duckdb/node-api";
import { runStep } from "../store/run-step.ts";
import { tracedRecords } from "./trace-records.ts";
import type { TracedRecord } from "./trace-types.ts";
import { count } from "./wording.ts";

/** Every record of a part in the order of time, its lists first, with ids to go on from. */
export async function partRecords(connection: DuckDBConnection, id: string): Promise<TracedRecord[]> {
  await runStep(connection, "56_part_records", { id });
  return tracedRecords(connection, "part_record", "first");
}

export function partSentence(id: string, records: TracedRecord[]): string {
  const of = (kind: TracedRecord["kind"]) => records.filter((record) => record.kind === kind);
  const days = of("card").flatMap(({ on }) => (on === null ? [] : [on]));
  const span = days.length === 0 ? "" : `, from ${days[0]} to ${days.at(-1)}`;
  const lists = count(of("list").length, "row", "rows");
  const counts = count(of("count").length, "count");
  return `Part ${id} is in ${lists} of the lists of parts and bearings and in ${counts} of stock, and fitted on ${count(of("card").length, "card")}${span}.`;
}

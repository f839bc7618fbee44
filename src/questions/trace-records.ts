import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { TracedRecord } from "./trace-types.ts";

/** The records of a unit or a part in the order of time, from the table that a step has made of them; those without a day stand where `undated` says. */
export async function tracedRecords(
  connection: DuckDBConnection,
  table: "unit_record" | "part_record",
  undated: "first" | "last",
): Promise<TracedRecord[]> {
  const found = await columns(
    connection,
    `select coalesce("on"::varchar, '') as "on", kind, says, standing, trace from ${table} order by ${table}."on" nulls ${undated}, place, trace`,
    { on: "text", kind: "text", says: "text", standing: "text", trace: "text" },
  );
  return found.trace.map((trace, index) => ({
    on: found.on[index] || null,
    kind: found.kind[index]! as TracedRecord["kind"],
    says: found.says[index]!,
    standing: found.standing[index]!,
    trace,
  }));
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";

/** What questions of one fleet read, derived or kept, tables or views. */
const OF_FLEETS = ["life", "installation", "known_unit", "built"];

/**
 * Makes `life`, `installation`, `known_unit` and `built` those of one fleet alone, until another is taken: its questions then read through its own
 * rows and no others. Questions of all fleets come before the first is taken.
 * @param fleet - name of a fleet; one without records leaves the tables empty
 * @example await takeFleet(store.connection, "saltmere");
 */
export async function takeFleet(connection: DuckDBConnection, fleet: string): Promise<void> {
  await setAside(connection);
  await runStep(connection, "64_one_fleet", { fleet });
}

/** Calls those of all fleets `every_life` and so on, unless that is done. */
async function setAside(connection: DuckDBConnection): Promise<void> {
  const found = await columns(
    connection,
    "select table_name as name, table_type = 'VIEW' as is_view from information_schema.tables where table_catalog = 'temp'",
    { name: "text", is_view: "boolean" },
  );
  if (found.name.includes(`every_${OF_FLEETS[0]}`)) return;
  for (const table of OF_FLEETS) {
    const kind = found.is_view[found.name.indexOf(table)] === 1 ? "view" : "table";
    await connection.run(`alter ${kind} ${table} rename to every_${table}`);
  }
}

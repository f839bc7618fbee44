import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Severities } from "../workspace/rules.ts";
import type { Alias } from "./aliases/alias.ts";

/** Raised when a check finds or says other things than before of the same records, so that stores are looked over anew. */
const CHECKS_VERSION = 3;

/**
 * The checks, in this order: what one sets aside the next does not see. Each runs its steps, the last of which fills the temp
 * table `found`. Meters are judged by the step that the lives use.
 */
const CHECKS = [
  ["29_same_day"],
  ["29_cards"],
  ["29_twice"],
  ["29_service"],
  ["29_evidence", "35_judged", "29_meter"],
  ["29_fittings"],
  ["29_vanished"],
  ["29_stock"],
  ["29_near_miss"],
] as const;

/** The checks that look over all records, made anew where records or rules have changed since they were made; in one transaction. */
export async function checkRecords(
  connection: DuckDBConnection,
  configuration: Pick<Configuration, "rollover_at">,
  severities: Severities,
  aliases: Alias[] = [],
): Promise<void> {
  const { rollover_at } = configuration;
  const refused = JSON.stringify(
    aliases.flatMap(({ fleet, unit, is, accept }) => (accept === "no" ? [{ fleet, unit, meant: is }] : [])),
  );
  const by = JSON.stringify([CHECKS_VERSION, severities, rollover_at, refused]);
  const { last } = await columns(connection, "select made_with as last from landing.checked", { last: "text" });
  if (last[0] === by) return;
  const values = { rollover_at, refused, severities: JSON.stringify(severities) };
  await connection.run("begin");
  try {
    await runStep(connection, "28_unchecked");
    await runStep(connection, "29_checked");
    for (const steps of CHECKS) await findAndBar(connection, steps, values);
    await connection.run("update landing.checked set made_with = $by", { by });
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

async function findAndBar(
  connection: DuckDBConnection,
  steps: readonly string[],
  values: Record<string, DuckDBValue>,
): Promise<void> {
  await connection.run(
    "create or replace temp table found (record varchar, file_id integer, row integer, field varchar, value varchar, rule varchar, message varchar)",
  );
  for (const step of steps) await runStep(connection, step, values);
  if ((await count(connection, "found")) === 0) return;
  await runStep(connection, "29_found", values);
  if ((await count(connection, "barring")) > 0) await runStep(connection, "29_barred");
}

async function count(connection: DuckDBConnection, table: "found" | "barring"): Promise<number> {
  const { rows } = await columns(connection, `select count(*)::integer as rows from ${table}`, { rows: "integer" });
  return rows[0] ?? 0;
}

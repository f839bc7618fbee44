import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Severities } from "../workspace/rules.ts";

/** Steps that look over all records, in this order: what one sets aside the next does not see. Each fills the temp table `found`. */
const STEPS = ["29_cards"] as const;

/** The checks that look over all records, made anew where records or rules have changed since they were made; in one transaction. */
export async function checkRecords(
  connection: DuckDBConnection,
  configuration: Pick<Configuration, "rollover_at" | "failed_when">,
  severities: Severities,
): Promise<void> {
  const { rollover_at, failed_when } = configuration;
  const by = JSON.stringify([1, severities, rollover_at, failed_when]);
  const { last } = await columns(connection, "select made_with as last from landing.checked", { last: "text" });
  if (last[0] === by) return;
  const values = { rollover_at, worn_is_failed: failed_when.includes("worn"), severities: JSON.stringify(severities) };
  await connection.run("begin");
  try {
    await runStep(connection, "28_unchecked");
    for (const step of STEPS) await findAndBar(connection, step, values);
    await connection.run("update landing.checked set made_with = $by", { by });
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

async function findAndBar(
  connection: DuckDBConnection,
  step: string,
  values: Record<string, DuckDBValue>,
): Promise<void> {
  await connection.run(
    "create or replace temp table found (record varchar, file_id integer, row integer, field varchar, value varchar, rule varchar, message varchar)",
  );
  await runStep(connection, step, values);
  await runStep(connection, "29_found", values);
}

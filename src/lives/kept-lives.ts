import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import { packageFile } from "../workspace/package-file.ts";
import { deriveBuilt } from "./derive-built.ts";
import { type Derived, deriveLives, type LivesRequest, STEPS, valuesOf } from "./derive-lives.ts";

/**
 * Keeps the lives, installations and units that have just been derived on this connection in the store, and builds with them, in place of those
 * kept before, with what they were derived from. Deriving takes seconds where records are many, and questions are asked more often than records change.
 */
export async function keepLives(
  connection: DuckDBConnection,
  configuration: LivesRequest["configuration"],
): Promise<void> {
  const made_from = await madeFrom(connection, { configuration });
  const days = await columns(connection, "select as_of::varchar as as_of from as_of", { as_of: "text" });
  const kept = await keptBefore(connection);
  if (kept?.madeFrom === made_from && kept.asOf === days.as_of[0]) return;
  await deriveBuilt(connection, configuration);
  await connection.run("begin");
  try {
    await runStep(connection, "44_keep", { made_from });
    await connection.run("commit");
  } catch (error) {
    // After a commit that failed there is nothing left to roll back.
    await connection.run("rollback").catch(() => {});
    throw error;
  }
}

/**
 * Gives `life` and `installation`, and `known_unit` and `built` where they are asked for: those kept in the store if they were derived from the same records, configuration and as-of date, and by
 * the same steps; else derived anew. The tables of the steps between are there only where lives were derived anew.
 * @returns the as-of date used, and the latest date in the records
 * @throws UserError as `deriveLives`
 * @example const { asOf } = await readyLives(store.connection, { configuration: workspace.configuration });
 */
export async function readyLives(connection: DuckDBConnection, request: LivesRequest): Promise<Derived> {
  const kept = await keptLives(connection, request);
  if (kept !== null) return kept;
  const derived = await deriveLives(connection, request);
  if (request.built) await deriveBuilt(connection, request.configuration);
  return derived;
}

async function keptLives(connection: DuckDBConnection, request: LivesRequest): Promise<Derived | null> {
  const kept = await keptBefore(connection);
  if (kept === null) return null;
  const { asOf, latestOn } = kept;
  const wanted = request.asOf ?? request.configuration.as_of ?? latestOn;
  if (wanted !== asOf || kept.madeFrom !== (await madeFrom(connection, request))) return null;
  await runStep(connection, "45_kept");
  if (request.units) await runStep(connection, "46_kept_units");
  if (request.built) await runStep(connection, "47_kept_built");
  return { asOf, latestOn };
}

/** What is kept in the store, if anything is. */
async function keptBefore(connection: DuckDBConnection): Promise<(Derived & { madeFrom: string }) | null> {
  const { tables } = await columns(
    connection,
    "select count(*)::integer as tables from duckdb_tables() where schema_name = 'results' and table_name in ('life', 'installation', 'known_unit', 'built', 'kept')",
    { tables: "integer" },
  );
  if (tables[0] !== 5) return null;
  const kept = await columns(
    connection,
    "select made_from, as_of::varchar as as_of, latest_on::varchar as latest_on from results.kept",
    { made_from: "text", as_of: "text", latest_on: "text" },
  );
  return { madeFrom: kept.made_from[0]!, asOf: kept.as_of[0]!, latestOn: kept.latest_on[0]! };
}

/** A hash over all that lives depend on beside the as-of date: the files that records were read from and how, by which rules any were barred, the configuration, the steps. */
async function madeFrom(connection: DuckDBConnection, { configuration }: LivesRequest): Promise<string> {
  const { state } = await columns(
    connection,
    `select coalesce(string_agg(concat_ws(' ', file_id, sha256, pipeline_sha256, state, rows_read, loaded_at), chr(10) order by file_id), '') as state
     from landing.file union all select made_with from landing.checked`,
    { state: "text" },
  );
  const steps = await Promise.all(
    [...STEPS, "59_built", "44_keep", "45_kept", "46_kept_units", "47_kept_built"].map((step) =>
      readFile(packageFile(`pipelines/sql/${step}.sql`), "utf8"),
    ),
  );
  return createHash("sha256")
    .update(JSON.stringify([state, { ...valuesOf(configuration, undefined), as_of: null }, steps]))
    .digest("hex");
}

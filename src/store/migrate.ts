import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "./columns.ts";
import { runStep } from "./run-step.ts";

/** The version that this program writes; `pipelines/sql/00_schema.sql` makes it. */
const SCHEMA_VERSION = 2;

/** Steps that bring a store of the version before to each version. */
const STEPS_TO: Record<number, readonly string[]> = { 2: ["01_set_aside_version_1", "00_schema", "02_version_2"] };

/** Makes the schema in an empty store, and brings an older one forward, in one transaction; a store that has it is checked. */
export async function migrate(connection: DuckDBConnection, file: string): Promise<void> {
  const { tables } = await columns(
    connection,
    "select count(*)::integer as tables from duckdb_tables() where not temporary and not internal",
    { tables: "integer" },
  );
  const version = tables[0] === 0 ? undefined : await knownVersion(connection, file);
  if (version === SCHEMA_VERSION) return;
  const steps =
    version === undefined
      ? ["00_schema"]
      : Array.from({ length: SCHEMA_VERSION - version }, (_, index) => STEPS_TO[version + index + 1] ?? []).flat();
  await connection.run("begin");
  try {
    for (const step of steps) await runStep(connection, step);
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

/** Refuses a database of another kind, a store written by a later version of the program, and one that must be brought forward first. */
export async function checkVersion(connection: DuckDBConnection, file: string): Promise<void> {
  const version = await knownVersion(connection, file);
  if (version < SCHEMA_VERSION) {
    throw new UserError(
      `Cannot open the store: ${file} has schema version ${version}, older than this program's ${SCHEMA_VERSION}; run "framelife ingest" once, which brings it forward`,
    );
  }
}

async function knownVersion(connection: DuckDBConnection, file: string): Promise<number> {
  const version = await versionOf(connection);
  if (version === undefined) {
    throw new UserError(
      `Cannot open the store: ${file} is a database of another kind; name another file under "store" in framelife.yaml`,
    );
  }
  if (version > SCHEMA_VERSION) {
    throw new UserError(
      `Cannot open the store: ${file} has schema version ${version}, this program knows versions up to ${SCHEMA_VERSION}; update framelife`,
    );
  }
  return version;
}

async function versionOf(connection: DuckDBConnection): Promise<number | undefined> {
  const { known } = await columns(
    connection,
    `select count(*)::integer as known from duckdb_columns()
     where schema_name = 'landing' and table_name = 'version' and column_name = 'schema_version'`,
    { known: "integer" },
  );
  if (known[0] === 0) return undefined;
  const { version } = await columns(connection, "select max(schema_version) as version from landing.version", {
    version: "number",
  });
  return version[0];
}

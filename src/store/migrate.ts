import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "./columns.ts";
import { runStep } from "./run-step.ts";

/** The version that this program writes; `pipelines/sql/00_schema.sql` makes it. */
const SCHEMA_VERSION = 1;

/** Makes the schema in an empty store, in one transaction; a store that has it is checked. */
export async function migrate(connection: DuckDBConnection, file: string): Promise<void> {
  const { tables } = await columns(
    connection,
    "select count(*)::integer as tables from duckdb_tables() where not temporary and not internal",
    { tables: "integer" },
  );
  if (tables[0] !== 0) return checkVersion(connection, file);
  await connection.run("begin");
  try {
    await runStep(connection, "00_schema");
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

/** Refuses a database of another kind, and a store written by a later version of the program. */
export async function checkVersion(connection: DuckDBConnection, file: string): Promise<void> {
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

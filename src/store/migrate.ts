import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "./columns.ts";
import { runStep } from "./run-step.ts";

/** The version that this program writes; `pipelines/sql/00_schema.sql` and `04_current_card.sql` make it. */
const SCHEMA_VERSION = 4;

const NEW = ["00_schema", "04_current_card"];

/** Steps that bring a store of each older version to that of now. */
const STEPS_FROM: Record<number, readonly string[]> = {
  1: ["01_set_aside_version_1", ...NEW, "02_from_version_1"],
  2: ["03_from_version_2", "04_current_card", "05_from_version_3"],
  3: ["04_current_card", "05_from_version_3"],
};

/** Makes the schema in an empty store, and brings an older one forward, in one transaction; a store that has it is checked. */
export async function migrate(connection: DuckDBConnection, file: string): Promise<void> {
  const { tables } = await columns(
    connection,
    "select count(*)::integer as tables from duckdb_tables() where not temporary and not internal",
    { tables: "integer" },
  );
  const version = tables[0] === 0 ? undefined : await knownVersion(connection, file);
  if (version === SCHEMA_VERSION) return;
  const steps = version === undefined ? NEW : STEPS_FROM[version];
  if (steps === undefined) throw new RangeError(`Cannot bring a store forward: no steps lead from version ${version}`);
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

/** Asked of the table itself: to look through the catalogue of a store takes longer than many a question. */
async function versionOf(connection: DuckDBConnection): Promise<number | undefined> {
  try {
    const { version } = await columns(connection, "select max(schema_version) as version from landing.version", {
      version: "number",
    });
    return version[0];
  } catch (error) {
    if (error instanceof Error && /^(Catalog|Binder) Error/.test(error.message)) return undefined;
    throw error;
  }
}

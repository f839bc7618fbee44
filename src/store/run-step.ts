import { readFile } from "node:fs/promises";
import type { DuckDBConnection, DuckDBPreparedStatement, DuckDBValue } from "@duckdb/node-api";
import { packageFile } from "../workspace/package-file.ts";

/**
 * Runs one step of `pipelines/sql`, statement by statement. A statement is bound with those of `values` that it names,
 * so that a step may use a value in one statement and another in the next; a name nobody gave a value is an error.
 * @param step - file name without folder and ending: "30_lives"
 */
export async function runStep(
  connection: DuckDBConnection,
  step: string,
  values: Record<string, DuckDBValue> = {},
): Promise<void> {
  await runScript(connection, await readFile(packageFile(`pipelines/sql/${step}.sql`), "utf8"), values);
}

/** The same from text. */
export async function runScript(
  connection: DuckDBConnection,
  sql: string,
  values: Record<string, DuckDBValue> = {},
): Promise<void> {
  const statements = await connection.extractStatements(sql);
  for (let index = 0; index < statements.count; index++) {
    const statement = await statements.prepare(index);
    try {
      bindNamed(statement, values);
      await statement.run();
    } finally {
      statement.destroySync();
    }
  }
}

function bindNamed(statement: DuckDBPreparedStatement, values: Record<string, DuckDBValue>): void {
  const named: Record<string, DuckDBValue> = {};
  for (let index = 1; index <= statement.parameterCount; index++) {
    const name = statement.parameterName(index);
    const value = values[name];
    if (value === undefined) throw new RangeError(`Cannot run an SQL step: no value for $${name}`);
    named[name] = value;
  }
  if (statement.parameterCount > 0) statement.bind(named);
}

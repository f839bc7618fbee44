import type { DuckDBConnection, DuckDBValue, JS } from "@duckdb/node-api";

/**
 * A result of few rows as plain objects; for many rows `columns` is the way.
 * Dates come as Date at midnight UTC, BIGINT as bigint: cast in SQL to what is wanted.
 */
export async function rows(
  connection: DuckDBConnection,
  sql: string,
  values?: Record<string, DuckDBValue>,
): Promise<Record<string, JS>[]> {
  return (await connection.run(sql, values)).getRowObjectsJS();
}

import type { DuckDBConnection } from "@duckdb/node-api";

/**
 * Runs `use` with the engine free to insert rows in any order. Version 1.5.6 can lose an insert of over 122,880 rows that keeps their
 * order and follows, in one transaction, an insert of none into the same table: it reports the rows, and no query sees them. // D14
 */
export async function inAnyOrder<T>(connection: DuckDBConnection, use: () => Promise<T>): Promise<T> {
  return ordered(connection, false, true, use);
}

/** Inside `inAnyOrder`: runs what numbers rows as they come. */
export async function inRowOrder<T>(connection: DuckDBConnection, use: () => Promise<T>): Promise<T> {
  return ordered(connection, true, false, use);
}

async function ordered<T>(
  connection: DuckDBConnection,
  inside: boolean,
  after: boolean,
  use: () => Promise<T>,
): Promise<T> {
  await connection.run(`set preserve_insertion_order = ${inside}`);
  try {
    return await use();
  } finally {
    await connection.run(`set preserve_insertion_order = ${after}`);
  }
}

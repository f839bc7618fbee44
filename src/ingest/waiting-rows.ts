import { mkdtemp, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { quoteText } from "../store/quote.ts";

// Bytes of text from which on rows wait on disk: beyond about that the engine would move tables in memory there anyway, uncompressed.
// At 1,623 MB such a file takes 1,000 MB and 48 s, a table in memory 119 s.
const LARGE = 250_000_000;

type Where = { csvPath: string; folder: string };

/**
 * Attaches the database `waiting`, in which the rows of the text table at `csvPath` wait between being read and being loaded, while `use`
 * runs: in memory, or for a large table in a file in `folder`. To be called outside a transaction.
 */
export async function withWaitingRows<T>(
  connection: DuckDBConnection,
  { csvPath, folder }: Where,
  use: () => Promise<T>,
): Promise<T> {
  const { size } = await stat(csvPath);
  if (size < LARGE) return withDatabase(connection, ":memory:", use);
  const scratch = await mkdtemp(join(folder, "waiting-"));
  try {
    return await withDatabase(connection, join(scratch, "rows.duckdb"), use);
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

async function withDatabase<T>(connection: DuckDBConnection, path: string, use: () => Promise<T>): Promise<T> {
  await connection.run(`attach ${quoteText(path)} as waiting (storage_version 'latest')`);
  try {
    return await use();
  } finally {
    await connection.run("detach waiting");
  }
}

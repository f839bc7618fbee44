import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { type Derived, deriveLives } from "../lives/derive-lives.ts";

/** Derives the lives; null where no record has a date, of which there are none, but other things to say. */
export async function derivedOrNone(
  connection: DuckDBConnection,
  request: Parameters<typeof deriveLives>[1],
): Promise<Derived | null> {
  try {
    return await deriveLives(connection, request);
  } catch (error) {
    if (!(error instanceof UserError) || error.status !== 1) throw error;
    return null;
  }
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { type Derived, deriveLives, type LivesRequest } from "../lives/derive-lives.ts";

/**
 * Derives the lives; null where no record has a date, of which there are none, but other things to say.
 * @param derive - how: anew, or `readyLives`
 */
export async function derivedOrNone(
  connection: DuckDBConnection,
  request: LivesRequest,
  derive: (connection: DuckDBConnection, request: LivesRequest) => Promise<Derived> = deriveLives,
): Promise<Derived | null> {
  try {
    return await derive(connection, request);
  } catch (error) {
    if (!(error instanceof UserError) || error.status !== 1) throw error;
    return null;
  }
}

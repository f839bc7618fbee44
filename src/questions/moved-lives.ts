import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import type { OffendersQuestion } from "./scope.ts";

/** Failures of one slot that came at another place than where the part was fitted, and all of which both places are known. */
export type MovedLives = { moved: number; of: number };

/** How many failures of a slot came at another place than the one that they are counted at. The connection holds `life` and `installation`. */
export async function movedLives(
  connection: DuckDBConnection,
  { kind, slot, fleet }: Pick<OffendersQuestion, "kind" | "slot" | "fleet">,
): Promise<MovedLives> {
  const place = quoteIdentifier(kind);
  const found = await columns(
    connection,
    `select (count(*) filter (l.${place} <> i.${place}))::integer as moved, count(*)::integer as failures
     from life l join installation i on i.fleet = l.fleet and i.unit = l.unit and i.stop_file = l.stop_file and i.stop_row = l.stop_row
     where l.status = 'failed' and l.ended_by = 'rebuild' and l.slot = $slot and coalesce(l.fleet = $fleet, true)
       and l.${place} is not null and i.${place} is not null`,
    { moved: "integer", failures: "integer" },
    { slot: slot ?? null, fleet: fleet ?? null },
  );
  return { moved: found.moved[0]!, of: found.failures[0]! };
}

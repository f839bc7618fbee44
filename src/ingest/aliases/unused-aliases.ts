import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { ALIASES_FILE, type Alias } from "./alias.ts";

/** Accepted aliases of numbers that no record has, as messages: mistyped, or of exports that are no longer there. */
export async function unusedAliases(connection: DuckDBConnection, aliases: Alias[]): Promise<string[]> {
  const links = new Set(aliases.flatMap(({ accept, is }) => (accept === "yes" ? [is] : [])));
  const wanted = aliases.filter(({ accept, unit }) => accept === "yes" && !links.has(unit));
  if (wanted.length === 0) return [];
  const { before } = await columns(
    connection,
    "select distinct before from landing.change where rule = 'alias' and before is not null",
    { before: "text" },
  );
  const replaced = new Set(before);
  return wanted
    .filter(({ unit }) => !replaced.has(unit))
    .map(
      ({ line, fleet, unit, is }) =>
        `${ALIASES_FILE}, line ${line}: no record of ${fleet} has the unit "${unit}", which is to be "${is}"; write the number as the records have it, or take the line out`,
    );
}

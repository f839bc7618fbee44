import type { DuckDBConnection } from "@duckdb/node-api";
import { askDossiers, type DossierQuestion } from "./dossier.ts";
import type { Dossier } from "./dossier-types.ts";
import { standsOut } from "./offenders.ts";
import type { FleetOverview } from "./overview-types.ts";

/** Dossiers of each kind that a report of one fleet has room for: those of the most certain. */
const MOST_DOSSIERS = 60;

/** The dossiers of the frames and positions of one fleet that stand out. */
export async function fleetDossiers(
  connection: DuckDBConnection,
  { unit, position }: FleetOverview["offenders"],
  question: Omit<DossierQuestion, "kind" | "ids">,
): Promise<Dossier[]> {
  const found: Dossier[] = [];
  for (const { by, entities } of [unit, position]) {
    const kind = by === "position" ? "position" : "unit";
    const ids = entities
      .filter(standsOut)
      .slice(0, MOST_DOSSIERS)
      .map(({ id }) => id);
    found.push(...(await askDossiers(connection, { ...question, kind, ids })));
  }
  return found;
}

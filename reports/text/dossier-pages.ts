import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { dossierPage } from "../../src/report/page-names.ts";

/** The page of a frame or position of a fleet, where it has one. */
export function dossierPages(
  { name, dossiers }: FleetOverview,
  kind: "unit" | "position",
): (id: string) => string | null {
  const known = new Set(dossiers.filter((dossier) => dossier.kind === kind).map(({ id }) => id));
  return (id) => (known.has(id) ? dossierPage(name, kind, id) : null);
}

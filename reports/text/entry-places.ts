import { type EntryKind, entriesPage, entryAnchor } from "../../src/report/entry-names.ts";
import { dossierPage } from "../../src/report/page-names.ts";
import type { FleetInShort, RegisterInShort } from "../fleet-in-short.ts";
import { entryParts } from "./entry-parts.ts";

/** Where the report says more of a frame or position: its page, or its place on one; null where nowhere. */
export type PageOf = (kind: EntryKind, id: string) => string | null;

/** Where each frame and position of one fleet stands in the report: on a page of its own, else among all others. */
export function entryPlaces(
  { name, dossiers }: Pick<FleetInShort, "name" | "dossiers">,
  register: RegisterInShort | undefined,
): PageOf {
  const places = {
    unit: entriesOf(name, "unit", register?.frames ?? []),
    position: entriesOf(name, "position", register?.positions ?? []),
  };
  for (const { kind, id } of dossiers) places[kind].set(id, dossierPage(name, kind, id));
  return (kind, id) => places[kind].get(id) ?? null;
}

/** The place of each entry in the list, whether or not it has a page of its own. */
function entriesOf(fleet: string, kind: EntryKind, entries: { id: string; builds: number }[]): Map<string, string> {
  const places = new Map<string, string>();
  entryParts(entries).forEach(({ from, to }, part) => {
    const page = entriesPage(fleet, kind, part + 1);
    for (const { id } of entries.slice(from, to)) places.set(id, `${page}#${entryAnchor(kind, id)}`);
  });
  return places;
}

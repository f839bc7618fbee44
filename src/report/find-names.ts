// Loaded by browsers as well as by the program: nothing of node's in here.
import { type EntryKind, entriesPage, entryAnchor, plainDossierPage } from "./entry-names.ts";

/** A page by its title. */
type NamedPage = [title: string, page: string];

/** The frames, or positions, of a fleet in the order of its list; the others count by their place in it. */
export type NamedEntries = {
  ids: string[];
  /** The first on each page of the list. */
  starts: number[];
  offenders: number[];
  watch: number[];
  /** Those with a page of their own; its name where it is no plain one. */
  alone: (number | [number, string])[];
};

/** The names of one fleet. */
export type NamedFleet = {
  name: string;
  title: string;
  pages: NamedPage[];
  unit: NamedEntries;
  position: NamedEntries;
};

/** All that the box for finding looks through. */
export type FindNames = { pages: NamedPage[]; fleets: NamedFleet[] };

/** The script beside the pages is this assignment; in a single file what is assigned stands by itself. */
export const NAMES_ASSIGNED = { before: "globalThis.framelifeNames = ", after: ";\n" } as const;

/** Where the report says most of an entry: its own page, else its place in the list. */
export function entryPlace(fleet: NamedFleet, kind: EntryKind, at: number): string {
  const { ids, starts, alone } = fleet[kind];
  const id = ids[at]!;
  const own = alone.find((one) => (typeof one === "number" ? one : one[0]) === at);
  if (own !== undefined) {
    const page = typeof own === "number" ? plainDossierPage(fleet.name, kind, id) : own[1];
    if (page !== null) return page;
  }
  const part = starts.findLastIndex((start) => start <= at);
  return `${entriesPage(fleet.name, kind, part + 1)}#${entryAnchor(kind, id)}`;
}

import type { Entity } from "../../src/questions/offenders-answer.ts";
import { type EntryKind, plainDossierPage } from "../../src/report/entry-names.ts";
import { type FindNames, NAMES_ASSIGNED, type NamedEntries } from "../../src/report/find-names.ts";
import { jsonIsland } from "../../src/report/json-island.ts";
import { dossierPage, INDEX_PAGE } from "../../src/report/page-names.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import type { ReportInput } from "../report-input.ts";
import { entryParts } from "./entry-parts.ts";
import { pagesOfFleet, sharedPages } from "./fleet-pages.ts";

/** The script with the names of all pages, frames and positions, for the box that finds them. */
export function namesScript(input: ReportInput): string {
  return `${NAMES_ASSIGNED.before}${jsonIsland(namesOf(input))}${NAMES_ASSIGNED.after}`;
}

function namesOf(input: ReportInput): FindNames {
  return {
    pages: [[input.title, INDEX_PAGE], ...sharedPages(input).map(({ title, page }): [string, string] => [title, page])],
    fleets: input.fleets.map((fleet) => ({
      name: fleet.name,
      title: fleet.title,
      pages: pagesOfFleet(fleet, input).map(({ title, page }): [string, string] => [title, page]),
      unit: entriesOf(fleet, "unit", input.register.get(fleet.name)?.frames ?? []),
      position: entriesOf(fleet, "position", input.register.get(fleet.name)?.positions ?? []),
    })),
  };
}

function entriesOf(fleet: FleetInShort, kind: EntryKind, entries: { id: string; builds: number }[]): NamedEntries {
  const place = new Map(entries.map(({ id }, at) => [id, at]));
  const judged = (verdict: Entity["verdict"]) =>
    fleet.offenders[kind].entities.flatMap((entity) =>
      entity.verdict === verdict && place.has(entity.id) ? [place.get(entity.id)!] : [],
    );
  return {
    ids: entries.map(({ id }) => id),
    starts: entryParts(entries).map(({ from }) => from),
    offenders: judged("offender"),
    watch: judged("watch"),
    alone: fleet.dossiers.flatMap((dossier): NamedEntries["alone"] => {
      const at = dossier.kind === kind ? place.get(dossier.id) : undefined;
      if (at === undefined) return [];
      const plain = plainDossierPage(fleet.name, kind, dossier.id) !== null;
      return [plain ? at : [at, dossierPage(fleet.name, kind, dossier.id)]];
    }),
  };
}

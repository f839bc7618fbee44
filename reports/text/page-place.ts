import { INDEX_PAGE } from "../../src/report/page-names.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import type { PageInput } from "../report-input.ts";
import { type FleetPageKind, type PageLink, pagesOfFleet, type SharedPageKind, sharedPages } from "./fleet-pages.ts";

/** Where a page belongs: it is the index, a page of all fleets, or one of a fleet or below such a one. */
export type PagePlace =
  | { of: "report" }
  | { of: "all"; kind: SharedPageKind }
  | { of: "fleet"; fleet: FleetInShort; kind: FleetPageKind; below?: true };

type Sibling = PageLink & { current: "page" | "true" | undefined };

/** The pages above a page, the index first; none above the index. */
export function pathTo(at: PagePlace, input: PageInput): PageLink[] {
  if (at.of === "report") return [];
  const index = { title: input.title, page: INDEX_PAGE };
  if (at.of === "all") return [index];
  const pages = pagesOfFleet(at.fleet, input).flatMap(({ kind, title, page }): PageLink[] => {
    if (kind === "fleet") return at.kind !== "fleet" || at.below ? [{ title: at.fleet.title, page }] : [];
    return at.below && kind === at.kind ? [{ title, page }] : [];
  });
  return [index, ...pages];
}

/** The pages beside a page, itself among them: of its fleet, or of all fleets. */
export function siblingsOf(at: PagePlace, input: PageInput): { of: string; pages: Sibling[] } {
  if (at.of === "fleet") {
    const pages = pagesOfFleet(at.fleet, input).map(({ kind, title, page }) => ({
      title,
      page,
      current: kind === at.kind ? currentOf(at.below) : undefined,
    }));
    return { of: at.fleet.title, pages };
  }
  const index: Sibling = { title: "Fleets", page: INDEX_PAGE, current: at.of === "report" ? "page" : undefined };
  const others = sharedPages(input).map(({ kind, title, page }): Sibling => {
    return { title, page, current: at.of === "all" && at.kind === kind ? "page" : undefined };
  });
  return { of: "all fleets", pages: [index, ...others] };
}

function currentOf(below: true | undefined): "page" | "true" {
  return below ? "true" : "page";
}

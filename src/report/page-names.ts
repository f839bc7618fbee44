import { createHash } from "node:crypto";
import { type EntryKind, plainDossierPage } from "./entry-names.ts";

export const INDEX_PAGE = "index.html";
export const DATA_QUALITY_PAGE = "data-quality.html";
export const METHODS_PAGE = "methods.html";
export const SPARES_PAGE = "spares.html";
/** The list of what to order, beside the page of spares. */
export const SPARES_ORDER = { csv: "spares-order.csv", workbook: "spares-order.xlsx" } as const;
export const STYLE_SHEET = "assets/report.css";
export const CHART_SCRIPT = "assets/charts.js";
/** Small, and run before a page is drawn. */
export const PAPER_SCRIPT = "assets/paper.js";
/** The names that the box for finding looks through. */
export const NAMES_SCRIPT = "assets/names.js";
/** The files of a report, by which the next one knows what of it is no longer made. */
export const PAGE_LIST = "assets/pages.json";
/** Licence texts of the packages in the chart script. */
export const LICENCES = "assets/licences.txt";

/** File name of a fleet's page; fleets have names that are file names (the configuration sees to it). */
export function fleetPage(name: string): string {
  return `fleet-${checked(name)}.html`;
}

/** File name of the page on the lives of a fleet's parts. */
export function lifePage(name: string): string {
  return `life-${checked(name)}.html`;
}

/** File name of the page on who comes back more often than chance explains in a fleet. */
export function offendersPage(name: string): string {
  return `offenders-${checked(name)}.html`;
}

/** File name of the page on what leaves the bench of a fleet and what comes back to it. */
export function benchPage(name: string): string {
  return `bench-${checked(name)}.html`;
}

/** File name of the page on which builds last longer: of a fleet, or of all together. */
export function buildsPage(fleet: string | null): string {
  return fleet === null ? "builds.html" : `builds-${checked(fleet)}.html`;
}

/**
 * File name of the page on one frame or position. Its name comes from an export and may hold anything: plain ones are kept, of others what can be
 * kept, with a hash. No two get the same, not even where a disk takes capital and small letters as one.
 */
export function dossierPage(fleet: string, kind: EntryKind, id: string): string {
  const plain = plainDossierPage(fleet, kind, id);
  if (plain !== null) return plain;
  const prefix = kind === "unit" ? "dossier" : "position";
  const kept = id
    .replaceAll(/[^A-Za-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "")
    .slice(0, 40);
  const hash = createHash("sha256")
    .update(JSON.stringify([fleet, id]))
    .digest("hex")
    .slice(0, 12);
  return `${prefix}-${checked(fleet)}-${kept}_${hash}.html`;
}

function checked(name: string): string {
  if (!/^[\w-]+$/.test(name)) throw new RangeError(`Cannot name the page of a fleet: found "${name}"`);
  return name;
}

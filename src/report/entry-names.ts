// Loaded by browsers as well as by the program: nothing of node's in here.

/** What has an entry on the pages of frames or of positions. */
export type EntryKind = "unit" | "position";

const PAGES = { unit: "frames", position: "positions" } as const;
const ANCHORS = { unit: "frame", position: "position" } as const;

/** File name of a part of the pages that list every frame, or position, of a fleet. Parts are told by a dot, which no fleet has in its name. */
export function entriesPage(fleet: string, kind: EntryKind, part = 1): string {
  if (!/^[\w-]+$/.test(fleet)) throw new RangeError(`Cannot name the page of a fleet: found "${fleet}"`);
  return `${PAGES[kind]}-${fleet}${part === 1 ? "" : `.${part}`}.html`;
}

/** Whether a page is one of those that list every frame, or position. */
export function isList(page: string): boolean {
  return Object.values(PAGES).some((kind) => page.startsWith(`${kind}-`));
}

/**
 * The id of an entry on its page. Names come from exports and may hold anything; what can't stand in an id as it is stands as its code point.
 * No two names get the same.
 * @example entryAnchor("unit", "QF 7"); // "frame-QF_20_7"
 */
export function entryAnchor(kind: EntryKind, id: string): string {
  return `${ANCHORS[kind]}-${id.replaceAll(/[^A-Za-z0-9-]/gu, (mark) => `_${mark.codePointAt(0)!.toString(16)}_`)}`;
}

/** File name of the page on one frame or position alone where its name is plain; null where it needs a hash. */
export function plainDossierPage(fleet: string, kind: EntryKind, id: string): string | null {
  const prefix = kind === "unit" ? "dossier" : "position";
  return /^[a-z0-9_]+$/.test(fleet) && /^[A-Z0-9-]{1,60}$/.test(id) ? `${prefix}-${fleet}-${id}.html` : null;
}

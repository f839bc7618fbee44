import type { EntryKind } from "../../src/report/entry-names.ts";
import { entryPlace, type FindNames, type NamedFleet } from "../../src/report/find-names.ts";

/** One result: a frame, a position or a page, and the place that it leads to. */
export type Found = {
  what: "frame" | "position" | "page";
  name: string;
  /** Title of the fleet that it is of. */
  fleet: string | null;
  standing: "offender" | "to watch" | null;
  place: string;
};

/** The best results, and how many there are in all. */
export type FoundNames = { best: Found[]; inAll: number };

/** Exact, at the beginning, somewhere inside. */
type Match = 0 | 1 | 2;

/** How good each result is, the best first, those of one rank in the order of the names. */
const RANKS = 12;
const PAGE = 3;

/** A text as titles are compared: small letters without accents, blanks and dashes. */
function bare(text: string): string {
  return text
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]/gu, "");
}

/** A bare text as names are compared: marks that are taken for each other when a plate is read are one, O and 0, I, L and 1. */
function alike(text: string): string {
  return text.replaceAll("o", "0").replaceAll(/[il]/g, "1");
}

type FoldedFleet = { fleet: NamedFleet; title: string; unit: string[]; position: string[]; standing: Standings };
type Standings = Record<EntryKind, Map<number, "offender" | "to watch">>;

/** Looks through the names of a report. */
export class Finder {
  readonly #names: FindNames;
  readonly #fleets: FoldedFleet[];

  constructor(names: FindNames) {
    this.#names = names;
    this.#fleets = names.fleets.map((fleet) => ({
      fleet,
      title: bare(`${fleet.title} ${fleet.name}`),
      unit: fleet.unit.ids.map((id) => alike(bare(id))),
      position: fleet.position.ids.map((id) => alike(bare(id))),
      standing: { unit: standingsOf(fleet, "unit"), position: standingsOf(fleet, "position") },
    }));
  }

  /** What a text means: any part of a name, alone or with words of its fleet's title before or after it; or words of a page's title. */
  find(text: string, most: number): FoundNames {
    const words = text
      .split(/\s+/)
      .map(bare)
      .filter((word) => word !== "");
    const ranks: Found[][] = Array.from({ length: RANKS }, () => []);
    if (words.length === 0) return { best: [], inAll: 0 };
    let inAll = 0;
    const add = (rank: number, found: () => Found) => {
      inAll++;
      const own = ranks[rank]!;
      if (own.length < most) own.push(found());
    };
    for (const one of this.#fleets) findEntries(one, words, add);
    this.#findPages(words, add);
    return { best: ranks.flat().slice(0, most), inAll };
  }

  #findPages(words: string[], add: (rank: number, found: () => Found) => void): void {
    const pages = [
      ...this.#names.pages.map(([name, place]) => ({ name, place, fleet: null })),
      ...this.#names.fleets.flatMap(({ title, pages }) =>
        pages.map(([name, place]) => ({ name, place, fleet: title })),
      ),
    ];
    for (const { name, place, fleet } of pages) {
      const title = bare(name);
      const whole = `${title} ${bare(fleet ?? "")}`;
      if (!words.every((word) => whole.includes(word))) continue;
      const match = title.startsWith(words.join("")) ? 1 : 2;
      add(match * 4 + PAGE, () => ({ what: "page", name, fleet, standing: null, place }));
    }
  }
}

function findEntries(one: FoldedFleet, words: string[], add: (rank: number, found: () => Found) => void): void {
  const needles = needlesOf(words, one.title);
  for (const kind of ["unit", "position"] as const) {
    one[kind].forEach((name, at) => {
      const match = bestMatch(name, needles);
      if (match === null) return;
      const standing = one.standing[kind].get(at) ?? null;
      add(match * 4 + standingRank(standing), () => ({
        what: kind === "unit" ? "frame" : "position",
        name: one.fleet[kind].ids[at]!,
        fleet: one.fleet.title,
        standing,
        place: entryPlace(one.fleet, kind, at),
      }));
    });
  }
}

/** The words together; and what is left of them where those before or after are of the fleet's title. */
function needlesOf(words: string[], title: string): string[] {
  const needles = [words.join("")];
  for (let at = 1; at < words.length; at++) {
    const [before, after] = [words.slice(0, at), words.slice(at)];
    if (before.every((word) => title.includes(word))) needles.push(after.join(""));
    if (after.every((word) => title.includes(word))) needles.push(before.join(""));
  }
  return needles.map(alike);
}

function bestMatch(name: string, needles: string[]): Match | null {
  let best: Match | null = null;
  for (const needle of needles) {
    const at = name.indexOf(needle);
    if (at < 0) continue;
    const match = at > 0 ? 2 : name.length === needle.length ? 0 : 1;
    if (best === null || match < best) best = match;
  }
  return best;
}

function standingRank(standing: Found["standing"]): number {
  if (standing === "offender") return 0;
  return standing === "to watch" ? 1 : 2;
}

function standingsOf(fleet: NamedFleet, kind: EntryKind): Map<number, "offender" | "to watch"> {
  return new Map([
    ...fleet[kind].watch.map((at) => [at, "to watch"] as const),
    ...fleet[kind].offenders.map((at) => [at, "offender"] as const),
  ]);
}

import type { CardVersion, SourceRow } from "./trace-types.ts";
import { count } from "./wording.ts";

/** What the parts of a card are called. */
export const PART_WORDS = { card: "the card itself", measured: "measured values" } as const;

/** Where a card stands: its versions, or, where lists of measured values tell a part of it, what each part came from. */
export function cardSentence(id: string, versions: CardVersion[], rows: SourceRow[]): string {
  const told = `Card ${id} stands in ${count(rows.length, "row")} of ${count(new Set(rows.map(fileOf)).size, "file")}`;
  const parts = [...new Set(versions.map(({ part }) => part))];
  if (parts.length > 1) {
    const byTrace = new Map(rows.map((row) => [row.trace, row]));
    const words = parts.map((part) => partWords(part, counted(versions, part), byTrace));
    return `${told}: ${words.join("; ")}.`;
  }
  const own = counted(versions, parts[0]);
  if (own.length > 1) return `${told}, in ${own.length} versions: the last, ${lastOf(own)}, counts.`;
  return `${told}: ${endings(rows)}.`;
}

/** That further rows have the number of a card, and are in quarantine. */
export function asideSentence(rows: SourceRow[]): string[] {
  if (rows.length === 0) return [];
  const places = rows.map(({ trace }) => trace).join(", ");
  return [
    `${count(rows.length, "row", "rows")} more in quarantine ${rows.length === 1 ? "has" : "have"} its number: ${places}.`,
  ];
}

/** How rows ended, each way once: "accepted as it stands". */
export function endings(rows: SourceRow[]): string {
  return [...new Set(rows.map(({ ended }) => ended.words))].join("; ");
}

function counted(versions: CardVersion[], part: CardVersion["part"] | undefined): CardVersion[] {
  return versions.filter((version) => version.part === part && version.standing !== "duplicate");
}

function lastOf(versions: CardVersion[]): string {
  return versions.findLast(({ standing }) => standing === "current")?.rows[0] ?? "none";
}

function partWords(part: CardVersion["part"], versions: CardVersion[], byTrace: Map<string, SourceRow>): string {
  const rows = versions.flatMap((version) => version.rows).flatMap((trace) => byTrace.get(trace) ?? []);
  const name = part === "card" ? PART_WORDS.card : `${PART_WORDS.measured}${fieldsOf(rows)}`;
  if (versions.length > 1)
    return `${name} in ${versions.length} versions, of which the last, ${lastOf(versions)}, counts`;
  return `${name} in ${[...new Set(rows.map(fileOf))].join(" and ")}`;
}

/** What tells a card is on every row of it. */
const TOLD_BY = new Set(["card", "fleet", "unit"]);

function fieldsOf(rows: SourceRow[]): string {
  const fields = new Set(rows.flatMap(({ recorded }) => recorded.map(({ field }) => field)));
  const own = [...fields].filter((field) => !TOLD_BY.has(field));
  return own.length === 0 ? "" : ` (${own.join(", ")})`;
}

function fileOf({ path, sheet }: SourceRow): string {
  return sheet === null ? path : `${path}#${sheet}`;
}

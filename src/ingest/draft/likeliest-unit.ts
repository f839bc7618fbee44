import { CANONICAL_FIELDS, requiredOf } from "../mapping/canonical-fields.ts";
import type { ColumnProfile, TableProfile } from "./column-profile.ts";
import { contentScore, NEVER } from "./content-score.ts";
import type { Match, Matched } from "./match-columns.ts";
import { counted } from "./shown.ts";
import { knownShare, listShare } from "./vocabulary.ts";

/** Kinds of which a unit has a row again and again. */
const HISTORIES = new Set(["rebuild", "reading"]);
const STATES = ["reason", "condition", "fitted", "lube", "damage_mode.any"];

/**
 * Where no column is known as the unit: the one of short names that come again, else that of the positions, to be confirmed. None where no
 * column may be it.
 */
export function withLikeliestUnit(matched: Matched, table: TableProfile): Matched {
  const { record, fields, slots } = matched;
  if (!HISTORIES.has(record) || !requiredOf(matched).includes("unit") || fields.has("unit")) return matched;
  const taken = new Set([...fields.values(), ...slots].map(({ column }) => column));
  const best = table.columns
    .filter((column) => !taken.has(column) && mayBeUnit(column, table))
    .toSorted((a, b) => nameShare(b) - nameShare(a) || b.distinct - a.distinct)[0];
  if (best === undefined) return withPlaces(matched, table);
  const why = `no header tells the unit; ${counted(best.distinct, "different text")} stand in its ${counted(best.filled, "cell")}, as names of units that come back do`;
  const match: Match = { column: best, header: 0, content: 0, margin: 0, why };
  return { ...matched, fields: new Map([...fields, ["unit", match]]) };
}

/** A list that names pumps and no frames: a frame is known by its place, as if it had never been swapped. */
function withPlaces(matched: Matched, table: TableProfile): Matched {
  const { record, fields } = matched;
  const position = fields.get("position");
  if (record !== "rebuild" || position === undefined || !mayBeUnit(position.column, table)) return matched;
  const why =
    "no column names the frame, so each place counts as one; a frame that was swapped with another is not told";
  const match: Match = { column: position.column, header: 0, content: 0, margin: 0, why };
  const others = [...fields].filter(([key]) => key !== "position");
  return { ...matched, fields: new Map([...others, ["unit", match]]) };
}

function mayBeUnit(column: ColumnProfile, { rows, sampled = rows }: TableProfile): boolean {
  const { filled, distinct, averageLength, words } = column;
  const content = contentScore("unit", CANONICAL_FIELDS.rebuild["unit"]!, column, {
    count: rows,
    perUnit: "many",
    perCard: "one",
  });
  const again = distinct >= 2 && distinct < filled && filled >= 0.6 * sampled;
  return content > NEVER && again && averageLength <= 30 && STATES.every((list) => listShare(words, list) < 0.5);
}

/** The share of cells with a figure or capitals alone. */
function nameShare({ words }: ColumnProfile): number {
  return knownShare(words, (text) => /\d|^[^\p{Ll}]+$/u.test(text));
}

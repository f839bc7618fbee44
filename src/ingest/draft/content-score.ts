import type { CanonicalField } from "../mapping/canonical-fields.ts";
import type { ColumnProfile } from "./column-profile.ts";
import { dateCells, serialCells } from "./date-patterns.ts";
import { isBlankMark, knownShare, listOf, listShare, slotMeaning } from "./vocabulary.ts";
import { BANDS } from "./words/value-bands.ts";

/** A column that can't be the field, whatever its header. */
export const NEVER = Number.NEGATIVE_INFINITY;

/** What the file's rows are, as far as it matters to what a column may be. */
export type Rows = {
  count: number /** One row a unit, or several. */;
  perUnit: "one" | "many" /** One row a card. */;
  perCard: "one" | "many";
};

/** How well the cells of a column fit a field: below 0 badly, up to 3 well. */
export function contentScore(key: string, field: CanonicalField, column: ColumnProfile, rows: Rows): number {
  if (column.filled === 0) return -0.3;
  switch (field.kind) {
    case "date":
      return dateScore(column);
    case "number":
      return numberScore(key, column);
    case "text":
      return textScore(key, column, rows);
    case "fleet":
      return column.distinct > 12 || dateShare(column) > 0.5 ? NEVER : 0.5;
    case "yesno":
      return wordScore(column, listOf(key), 0.5, 12);
    case "words":
      return wordScore(column, listOf(key), 0, 2000);
    case "slot":
      return slotScore(key, column, rows);
  }
}

export function dateShare(column: ColumnProfile): number {
  return column.filled === 0 ? 0 : (dateCells(column) + serialCells(column)) / column.filled;
}

function dateScore(column: ColumnProfile): number {
  const share = dateShare(column);
  const serials = serialCells(column) / column.filled;
  return share < 0.5 ? NEVER : 2 * share - 0.5 * serials;
}

function numberScore(key: string, column: ColumnProfile): number {
  const { numbers, filled } = column;
  if (numbers.count === 0 || numbers.count < 0.6 * (filled - blankMarks(column)) || dateCells(column) > 0.5 * filled)
    return NEVER;
  const bands = BANDS[key];
  if (bands === undefined) return 0.3;
  const { median } = numbers;
  return bands.some(({ likely: [low, high] }) => median >= low && median <= high) ? 1 : -2;
}

/** Cells that say in a mark that nothing is recorded. */
function blankMarks({ words }: ColumnProfile): number {
  return words.reduce((sum, { text, count }) => sum + (isBlankMark(text) ? count : 0), 0);
}

const NAMES = new Set([
  "card",
  "unit",
  "position",
  "model",
  "fitter",
  "batch",
  "part",
  "site",
  "place",
  "seal_arrangement",
]);
const FEW: Record<string, number> = { model: 30, site: 60, fitter: 80, seal_arrangement: 25, currency: 6, place: 60 };

function textScore(key: string, column: ColumnProfile, rows: Rows): number {
  if (isNoText(column)) return NEVER;
  const { distinct, averageLength } = column;
  if (key === "remarks" || key === "title") return averageLength > 20 ? 1.5 : -0.5;
  const length = NAMES.has(key) && averageLength > 30 ? -2 : 0;
  const few = FEW[key];
  const variety = few === undefined ? 0 : distinct <= few ? 0.4 : -1;
  return length + variety + keyScore(key, column, rows);
}

/** Dates, and numbers with decimals, are no names. */
function isNoText(column: ColumnProfile): boolean {
  const { filled, numbers } = column;
  if (dateShare(column) > 0.8 && serialCells(column) === 0) return true;
  return numbers.count > 0.8 * filled && numbers.decimals > 0.2 * filled;
}

/** Numbers of cards come once, or once a slot; those of units again and again, or once in a list of units. */
function keyScore(key: string, { filled, distinct }: ColumnProfile, rows: Rows): number {
  if (filled < 8) return 0;
  const share = distinct / filled;
  const repeated = key === "card" ? [0.6, 0.6, -1] : [0.985, 0.5, -0.6];
  if (key !== "card" && key !== "unit" && key !== "part") return 0;
  if ((key === "card" ? rows.perCard : rows.perUnit) === "one") return once(share);
  const [most = 1, good = 0, bad = 0] = repeated;
  return share <= most ? good : bad;
}

function once(share: number): number {
  if (share > 0.9) return 0.8;
  return share < 0.5 ? -3 : -0.5;
}

function wordScore(column: ColumnProfile, list: string, least: number, most: number): number {
  if (column.distinct > most || dateShare(column) > 0.5) return NEVER;
  const share = listShare(column.words, list);
  return share < least ? NEVER : 3 * share - 0.5;
}

function slotScore(key: string, column: ColumnProfile, { perCard }: Rows): number {
  const share = knownShare(column.words, (text) => slotMeaning(text) !== undefined);
  if (column.distinct > 60) return NEVER;
  if (share < 0.5) return key === "slot" && perCard === "many" && mayBeComponent(column) ? 0.2 : NEVER;
  return 2 * share + (key === "failed_slot" ? 0 : 0.3);
}

/** Words of components that no dictionary knows: few, each again and again, under a header that may say so. */
function mayBeComponent({ header, filled, distinct, averageLength, numbers }: ColumnProfile): boolean {
  return (
    header !== "" && distinct >= 2 && distinct * 2 <= filled && averageLength <= 40 && numbers.count < 0.2 * filled
  );
}

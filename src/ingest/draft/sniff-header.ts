import type { NumberedRecord } from "../export/parse-records.ts";
import { isHeaderWord } from "./header-words.ts";
import { shown } from "./shown.ts";
import type { Sniffed } from "./sniff-text.ts";
import { isUnit } from "./unit-in-header.ts";

const WITHIN = 40;

type Look = { record: NumberedRecord; filled: string[]; texts: number; words: number; repeated: boolean };

/** The rows of column titles: one, two where a title spans others, or none. Records are the first of the file, empty rows left out. */
export function sniffHeader(first: NumberedRecord[]): Sniffed<"none" | number[]> {
  const looks = first.slice(0, WITHIN).map(lookAt);
  const width = widthOf(looks);
  const best = looks.reduce<Look | undefined>(
    (chosen, look) => (score(look, width) > score(chosen, width) ? look : chosen),
    undefined,
  );
  if (best === undefined || isData(best, looks))
    return { value: "none", evidence: "no row of titles: the first row holds values as those below do" };
  const at = looks.indexOf(best);
  const rows = pair(looks, at).map(({ record }) => record.number);
  const words = `${best.words} of its ${best.filled.length} titles hold words that titles have${best.filled[0] === undefined ? "" : `, the first is ${shown(best.filled[0])}`}`;
  if (rows.length === 1) return { value: rows, evidence: `row ${rows[0]}: ${words}` };
  const below = looks[at + 1];
  const why =
    below !== undefined && isUnitLine(best, below)
      ? "the lower names units"
      : "titles of the upper span those of the lower";
  return { value: rows, evidence: `rows ${rows.join(" and ")}: ${why}` };
}

/** Cells of the widest row but one: a single row may run on where a line break is lost. */
function widthOf(looks: Look[]): number {
  const widths = looks.map(({ filled }) => filled.length).sort((a, b) => b - a);
  return Math.max(1, widths[1] ?? widths[0] ?? 1);
}

function lookAt(record: NumberedRecord): Look {
  const filled = record.cells.map((cell) => cell.trim()).filter((cell) => cell !== "");
  const texts = filled.filter(isText).length;
  const words = filled.filter((cell) => isText(cell) && isHeaderWord(cell)).length;
  return { record, filled, texts, words, repeated: new Set(filled).size < filled.length };
}

/** Neither a number nor a date, nor a name with a number in it; or a unit, as "(1/100)". */
function isText(cell: string): boolean {
  if (isUnit(bare(cell))) return true;
  return /\p{L}/u.test(cell) && !/^\p{L}{0,4}[-/ ]?\d+([.,/-]\d+)*$/u.test(cell) && cell.length <= 80;
}

function score(look: Look | undefined, width: number): number {
  if (look === undefined) return 0;
  const { filled, texts, words } = look;
  if (filled.length < Math.min(2, width) || filled.length * 3 < width) return 0;
  return 2 * words + texts - 3 * (filled.length - texts);
}

/** Neither its own words nor those of the rows below make it a row of titles. */
function isData(best: Look, looks: Look[]): boolean {
  const { filled, texts, words } = best;
  const others = looks.filter((look) => look !== best).map((look) => look.words);
  const usual = others.toSorted((a, b) => a - b)[Math.floor(others.length / 2)] ?? 0;
  if (words > 1 && words > 2 * usual) return false;
  return words * 3 < filled.length && texts < filled.length;
}

/** Titles in two rows: one of them has blanks over or under which the other goes on, and the lower repeats itself. */
function pair(looks: Look[], at: number): Look[] {
  const best = looks[at]!;
  const above = looks[at - 1];
  if (above !== undefined && isUpper(above, best)) return [above, best];
  const below = looks[at + 1];
  if (below !== undefined && (isUpper(best, below) || isUnitLine(best, below))) return [best, below];
  return [best];
}

/** The units of the columns, in a row of their own. */
function isUnitLine(titles: Look, { record, filled }: Look): boolean {
  return titles.record.number + 1 === record.number && filled.length >= 2 && filled.every((cell) => isUnit(bare(cell)));
}

/** A unit without the brackets around it. */
function bare(cell: string): string {
  return cell.replace(/^[([](.*)[)\]]$/, "$1");
}

function isUpper(upper: Look, lower: Look): boolean {
  const follows = upper.record.number + 1 === lower.record.number;
  const allText = upper.texts === upper.filled.length && lower.texts === lower.filled.length;
  const spans =
    upper.filled.length >= 2 &&
    upper.filled.length < upper.record.cells.length &&
    upper.filled.length <= lower.filled.length * 1.5;
  return (
    follows &&
    allText &&
    spans &&
    lower.filled.length >= 2 &&
    (lower.repeated || fillsBlanks(upper, lower)) &&
    lower.words > 0
  );
}

/** A title of the upper row has a blank under it, and the lower row titles what the upper leaves blank. */
function fillsBlanks({ record: upper }: Look, { record: lower }: Look): boolean {
  const isFilled = (cells: string[], column: number) => (cells[column] ?? "").trim() !== "";
  const columns = Array.from({ length: Math.max(upper.cells.length, lower.cells.length) }, (_, column) => column);
  return (
    columns.some((column) => isFilled(upper.cells, column) && !isFilled(lower.cells, column)) &&
    columns.some((column) => !isFilled(upper.cells, column) && isFilled(lower.cells, column))
  );
}

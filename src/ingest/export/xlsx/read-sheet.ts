import { MOST_COLUMNS, MOST_SHEET_ROWS } from "../limits.ts";
import { type CellRules, cellText, type RawCell } from "./cell-text.ts";
import { readXml, type XmlReader } from "./read-xml.ts";
import { damagedWorkbook, type ZipParts } from "./zip-parts.ts";

/** Cells joined into one: rows and columns from 1 and 0, both ends among them. */
export type MergedCells = { top: number; bottom: number; left: number; right: number };

type Part = { name: string; shownPath: string; rules: CellRules };

/**
 * Reads a sheet, row by row, hidden ones too; `onRow` gets those that hold anything, cut off behind their last filled cell.
 * @returns the merged cells that begin in or above row `mergesTo()`
 */
export async function readSheet(
  parts: ZipParts,
  part: Part,
  onRow: (number: number, cells: string[]) => void,
  { mergesTo, after }: { mergesTo: () => number; after: () => Promise<void> },
): Promise<MergedCells[]> {
  const reader = new SheetReader(part, onRow, mergesTo);
  await readXml(parts, part, reader, after);
  return reader.merged;
}

class SheetReader implements XmlReader {
  readonly merged: MergedCells[] = [];
  private readonly part: Part;
  private readonly onRow: (number: number, cells: string[]) => void;
  private readonly mergesTo: () => number;
  private readonly sharedFormulas = new Map<string, string>();
  private row = 0;
  private column = -1;
  private cells: string[] = [];
  private filled = 0;
  private cell: RawCell = emptyCell({});
  /** Which text of the cell the pieces belong to. */
  private taking: "value" | "formula" | undefined;
  private spoken = 0;
  private shared: string | undefined;

  constructor(part: Part, onRow: (number: number, cells: string[]) => void, mergesTo: () => number) {
    this.part = part;
    this.onRow = onRow;
    this.mergesTo = mergesTo;
  }

  open(name: string, attributes: Record<string, string>): void {
    switch (name) {
      case "c":
        this.openCell(attributes);
        break;
      case "v":
        this.take("value");
        break;
      case "t":
        if (this.spoken === 0) this.take("value");
        break;
      case "rPh":
        this.spoken++;
        break;
      case "f":
        this.take("formula");
        this.shared = attributes["t"] === "shared" ? attributes["si"] : undefined;
        break;
      case "row":
        this.openRow(attributes["r"]);
        break;
      case "mergeCell":
        this.merge(attributes["ref"] ?? "");
        break;
    }
  }

  text(piece: string): void {
    if (this.taking !== undefined) this.cell[this.taking] += piece;
  }

  close(name: string): void {
    if (name === "v" || name === "t") this.taking = undefined;
    else if (name === "c") this.closeCell();
    else if (name === "f") this.closeFormula();
    else if (name === "rPh") this.spoken--;
    else if (name === "row" && this.filled > 0) this.onRow(this.row, this.cells.slice(0, this.filled));
  }

  private take(text: "value" | "formula"): void {
    this.taking = text;
    this.cell[text] ??= "";
  }

  private openRow(place: string | undefined): void {
    const row = place === undefined ? this.row + 1 : Number(place);
    if (!(Number.isInteger(row) && row > this.row && row <= MOST_SHEET_ROWS)) {
      throw this.damaged(`row ${place} after row ${this.row}`);
    }
    this.row = row;
    this.column = -1;
    this.cells = [];
    this.filled = 0;
  }

  private openCell(attributes: Record<string, string>): void {
    const place = attributes["r"];
    const column = place === undefined ? this.column + 1 : columnOf(place);
    if (!(column > this.column && column < MOST_COLUMNS)) throw this.damaged(`cell ${place} in row ${this.row}`);
    this.column = column;
    this.cell = emptyCell(attributes);
  }

  private closeCell(): void {
    const text = cellText(this.cell, this.part.rules);
    if (text === undefined) throw this.damaged(`text ${this.cell.value}, in row ${this.row}, is not there`);
    if (text === "") return;
    while (this.cells.length < this.column) this.cells.push("");
    this.cells.push(text);
    this.filled = this.cells.length;
  }

  /** A formula that many cells share stands at the first of them. */
  private closeFormula(): void {
    this.taking = undefined;
    if (this.shared === undefined) return;
    const formula = this.cell.formula ?? "";
    if (formula !== "") this.sharedFormulas.set(this.shared, formula);
    else this.cell.formula = this.sharedFormulas.get(this.shared) ?? "";
  }

  private merge(place: string): void {
    const [, from = "", top, to = "", bottom] = /^\$?([A-Z]+)\$?(\d+):\$?([A-Z]+)\$?(\d+)$/.exec(place) ?? [];
    if (top === undefined || Number(top) > this.mergesTo()) return;
    this.merged.push({ top: Number(top), bottom: Number(bottom), left: columnOf(from), right: columnOf(to) });
  }

  private damaged(what: string): Error {
    return damagedWorkbook(this.part.shownPath, `${this.part.name}: ${what}`);
  }
}

function emptyCell(attributes: Record<string, string>): RawCell {
  const { t: type = "n", s: style } = attributes;
  return { type, style: style === undefined ? 0 : Number(style), value: undefined, formula: undefined };
}

/** The column of a cell's place, from 0: "A" is 0, "XFD7" 16383. */
function columnOf(place: string): number {
  let column = 0;
  for (let at = 0; at < place.length; at++) {
    const letter = place.charCodeAt(at) - 64;
    if (letter < 1 || letter > 26) break;
    column = 26 * column + letter;
  }
  return column - 1;
}

import { join } from "node:path";
import { UserError } from "../../../errors.ts";
import { OVERFLOW } from "../csv-source.ts";
import { enoughForHeader, findHeader } from "../find-header.ts";
import { UNNAMED_COLUMNS } from "../limits.ts";
import type { ExportToOpen, OpenTable } from "../open-table.ts";
import type { NumberedRecord } from "../parse-records.ts";
import { rewriteTable } from "../rewrite-table.ts";
import { TableWriter } from "../table-writer.ts";
import { type MergedCells, readSheet } from "./read-sheet.ts";
import { sharedStrings } from "./shared-strings.ts";
import { numberKinds } from "./styles.ts";
import { openBook, type Workbook } from "./workbook.ts";

/** Writes a sheet of a workbook as a text table; its empty rows are `blanks`, those below the last filled one left out. */
export async function openWorkbook(wanted: ExportToOpen, scratch: string): Promise<OpenTable> {
  const { path, shownPath, reading } = wanted;
  const book = await openBook(path, shownPath);
  try {
    const part = partOf(book, reading.sheet, shownPath);
    const rules = {
      strings: await sharedStrings(book, shownPath),
      kinds: await numberKinds(book, shownPath),
      dateSystem: book.dateSystem,
      decimalMark: reading.decimalMark,
    };
    const csvPath = join(scratch, "sheet.csv");
    const { widest, ...table } = await written(wanted, csvPath, (rows) =>
      readSheet(book.parts, { name: part, shownPath, rules }, rows.add, rows),
    );
    const fits = widest <= table.header.length + OVERFLOW;
    return {
      ...table,
      csvPath: fits ? csvPath : await rewriteTable(csvPath, ",", table.header.length, join(scratch, "clean.csv")),
      dateSystem: book.dateSystem,
    };
  } finally {
    book.parts.close();
  }
}

function partOf({ sheets }: Workbook, name: string | undefined, shownPath: string): string {
  const sheet = name === undefined ? sheets[0] : sheets.find((each) => each.name === name);
  if (sheet === undefined) {
    const all = sheets.map((each) => `"${each.name}"`).join(", ");
    throw new UserError(`Cannot read ${shownPath}: it has no sheet "${name}"; it has ${all}`);
  }
  if (sheet.part !== "") return sheet.part;
  throw new UserError(`Cannot read ${shownPath}: its sheet "${sheet.name}" is a chart, not a table; name another`);
}

type Rows = { add: (number: number, cells: string[]) => void; mergesTo: () => number; after: () => Promise<void> };

async function written(
  { shownPath, reading, wanted }: ExportToOpen,
  csvPath: string,
  read: (rows: Rows) => Promise<MergedCells[]>,
): Promise<Omit<OpenTable, "csvPath"> & { widest: number }> {
  const writer = await TableWriter.open(csvPath, shownPath);
  const first: NumberedRecord[] = [];
  const blanks: number[] = [];
  let [before, widest, enough] = [0, 0, false];
  const add = (number: number, cells: string[]) => {
    for (let row = before + 1; row < number; row++) blanks.push(row);
    before = number;
    if (cells.length > widest) widest = cells.length;
    if (!enough) {
      first.push({ number, cells });
      enough = enoughForHeader(first, reading.header);
    }
    writer.add(cells, number);
  };
  let merged: MergedCells[];
  try {
    merged = await read({ add, mergesTo: () => first.at(-1)?.number ?? 0, after: () => writer.flush() });
  } finally {
    await writer.close();
  }
  const found = findHeader({ first, wanted, header: reading.header, spread: spreadMerged(merged), shownPath });
  return {
    widest,
    delimiter: ",",
    header: widened(found.header, widest),
    above: found.above,
    headerRecords: found.headerRecords,
    blanks,
    broken: [],
    records: writer.records,
    quotedNewlines: writer.quotedNewlines,
    reading: { ...reading, header: found.rows },
  };
}

/** Columns of a sheet that have no title are columns all the same. */
function widened(header: string[], widest: number): string[] {
  const width = Math.min(widest, header.length + UNNAMED_COLUMNS);
  return [...header, ...Array.from({ length: Math.max(0, width - header.length) }, () => "")];
}

/** A title stands over the columns that its cell is merged over. */
function spreadMerged(merged: MergedCells[]) {
  return ({ number, cells }: NumberedRecord, width: number): string[] =>
    Array.from({ length: width }, (_, column) => {
      const over = merged.find(({ top, left, right }) => top === number && left <= column && column <= right);
      return cells[over?.left ?? column] ?? "";
    });
}

import { closeSync, openSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { UserError } from "../errors.ts";
import { csvTable, type TableCell } from "../report/csv-table.ts";

export type Cell = TableCell;

/** Writes a table as CSV (RFC 4180). A text that a spreadsheet would run as a formula gets an apostrophe before it. */
export function writeCsv(folder: string, file: string, headers: string[], rows: Cell[][]): void {
  const path = resolve(folder, file);
  orTell(path, () => writeFileSync(path, csvTable([headers, ...rows])));
}

/** A CSV file that is written piece by piece, for tables that had better not lie in memory whole. Close it. */
export function openCsv(
  folder: string,
  file: string,
  headers: string[],
): { write: (rows: Cell[][]) => void; close: () => void } {
  const path = resolve(folder, file);
  const open = orTell(path, () => openSync(path, "w"));
  const write = (rows: Cell[][]) => orTell(path, () => writeFileSync(open, csvTable(rows)));
  write([headers]);
  return { write, close: () => closeSync(open) };
}

function orTell<Result>(path: string, act: () => Result): Result {
  try {
    return act();
  } catch (error) {
    throw new UserError(
      `Cannot write ${path}: ${(error as Error).message}; name a file in a folder that can be written to`,
      1,
      { cause: error },
    );
  }
}

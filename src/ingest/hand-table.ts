import { open } from "node:fs/promises";
import { UserError } from "../errors.ts";
import { parseRecords } from "./export/parse-records.ts";
import { nearest } from "./mapping/nearest.ts";

/** A row of a table that people keep by hand: its number as a spreadsheet shows it, and its cells by our names of the columns. */
export type HandRow<Column extends string> = { line: number; cells: Record<Column, string> };

export type HandTable<Column extends string> = {
  /** As the header has them. */
  order: Column[];
  delimiter: string;
  rows: HandRow<Column>[];
};

/** What spreadsheets would run, behind apostrophes: one of those is no part of the cell. */
const GUARDED = /^'(?='*[=+\-@\t])/;

/**
 * Reads a small CSV that people keep by hand (UTF-8; cells divided by ",", ";" or tabs, as its header is). Blank rows are left out.
 * @param name - what messages call the file
 * @throws UserError naming the line if a column is missing, unknown or there twice, a row has cells too many, or it is not UTF-8
 */
export async function readHandTable<const Column extends string>(
  path: string,
  name: string,
  columns: readonly Column[],
): Promise<HandTable<Column>> {
  const delimiter = await delimiterOf(path);
  const rows: HandRow<Column>[] = [];
  let order: Column[] | undefined;
  for await (const { number, cells } of parseRecords(path, delimiter)) {
    if (cells.some((cell) => cell.includes("\ufffd") || cell.includes("\0"))) {
      throw fault(name, number, 'it is not UTF-8; save it as "CSV UTF-8"');
    }
    if (cells.every((cell) => cell.trim() === "")) continue;
    if (order === undefined) order = headerOf(name, number, cells, columns);
    else rows.push({ line: number, cells: cellsOf(name, number, cells, order) });
  }
  return { order: order ?? [...columns], delimiter, rows };
}

async function delimiterOf(path: string): Promise<string> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(1024), 0, 1024, 0);
    const line = buffer.subarray(0, bytesRead).toString("utf8").split(/\r|\n/)[0] ?? "";
    return [",", ";", "\t"].find((mark) => line.includes(mark)) ?? ",";
  } finally {
    await file.close();
  }
}

function headerOf<Column extends string>(
  name: string,
  line: number,
  cells: string[],
  columns: readonly Column[],
): Column[] {
  const order = cells.map((cell) => {
    const key = cell.trim().toLowerCase();
    const column = columns.find((known) => known === key);
    if (column !== undefined) return column;
    throw fault(name, line, `there is no column "${cell.trim()}"; the nearest is "${nearest(key, columns)}"`);
  });
  const twice = order.find((column, index) => order.indexOf(column) !== index);
  if (twice !== undefined) throw fault(name, line, `column "${twice}" stands twice; take one out`);
  const missing = columns.filter((column) => !order.includes(column));
  if (missing.length > 0) throw fault(name, line, `there is no column ${missing.join(", ")}; add it`);
  return order;
}

function cellsOf<Column extends string>(
  name: string,
  line: number,
  cells: string[],
  order: Column[],
): Record<Column, string> {
  if (cells.slice(order.length).some((cell) => cell.trim() !== "")) {
    throw fault(name, line, "more cells than the header has; put quotes around a cell that holds the delimiter");
  }
  const pairs = order.map((column, index) => [column, (cells[index] ?? "").replace(GUARDED, "").trim()]);
  return Object.fromEntries(pairs) as Record<Column, string>;
}

/** A fault of such a file as a UserError: found, then the remedy. */
export function fault(name: string, line: number, found: string): UserError {
  return new UserError(`Cannot use ${name}, line ${line}: ${found}`);
}

import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { UserError } from "../errors.ts";

export type Cell = string | number | null;

/** Writes a table as CSV (RFC 4180). A text that a spreadsheet would run as a formula gets an apostrophe before it. */
export function writeCsv(folder: string, file: string, headers: string[], rows: Cell[][]): void {
  const path = resolve(folder, file);
  try {
    writeFileSync(path, `${[headers, ...rows].map((row) => row.map(cellText).join(",")).join("\r\n")}\r\n`);
  } catch (error) {
    throw new UserError(
      `Cannot write ${path}: ${(error as Error).message}; name a file in a folder that can be written to`,
      1,
      {
        cause: error,
      },
    );
  }
}

function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const harmless = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

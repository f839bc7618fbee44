/** A cell of a table that is written for other programs. */
export type TableCell = string | number | null;

/** Rows as CSV (RFC 4180). A text that a spreadsheet would run as a formula gets an apostrophe before it. */
export function csvTable(rows: TableCell[][]): string {
  return rows.map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
}

// Signs that spreadsheets take for the beginning of a formula; the wide forms where East Asian input is usual. Common practice.
const FORMULA = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

function cellText(cell: TableCell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const harmless = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

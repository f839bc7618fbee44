/** Rows as delimited text (RFC 4180): a cell is quoted where it holds the delimiter, a quote or a line end, quotes inside are doubled. */
export function csvText(rows: string[][], { delimiter, newline }: { delimiter: string; newline: string }): string {
  const needsQuotes = new RegExp(`[${delimiter}"\\r\\n]`);
  const written = (cell: string) => (needsQuotes.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return rows.map((row) => row.map(written).join(delimiter) + newline).join("");
}

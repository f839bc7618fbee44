import { printable } from "./printable.ts";

/** A table for a terminal: texts to the left, figures to the right, columns two blanks apart. No cell can command the terminal. */
export function textTable(headers: string[], rows: string[][], right: boolean[]): string {
  const table = [headers, ...rows].map((cells) => cells.map(printable));
  const widths = headers.map((_, column) =>
    table.reduce((widest, cells) => Math.max(widest, (cells[column] ?? "").length), 0),
  );
  const line = (cells: string[]) =>
    cells
      .map((cell, column) => (right[column] ? cell.padStart(widths[column] ?? 0) : cell.padEnd(widths[column] ?? 0)))
      .join("  ")
      .trimEnd();
  return table.map(line).join("\n");
}

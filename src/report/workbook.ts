import writeExcelFile from "write-excel-file/node";
import type { TableCell } from "./csv-table.ts";

/** A table as one sheet of a workbook; texts are texts, whatever they begin with. */
export type Sheet = {
  name: string;
  headers: string[];
  rows: TableCell[][];
};

/** Widths of columns in signs: as wide as what stands in them, within reason. */
const WIDTHS = { least: 8, most: 60 };

/** A workbook (Office Open XML) of one sheet, its headers bold and staying in view. */
export async function workbook({ name, headers, rows }: Sheet): Promise<Buffer> {
  const columns = headers.map((header, at) => ({
    width: rows.reduce(
      (widest, row) => Math.min(WIDTHS.most, Math.max(widest, String(row[at] ?? "").length + 2)),
      Math.max(WIDTHS.least, header.length + 2),
    ),
  }));
  const data = [
    headers.map((value) => ({ value, type: String, fontWeight: "bold" as const })),
    ...rows.map((row) => row.map(cellOf)),
  ];
  return writeExcelFile(data, { sheet: name, columns, stickyRowsCount: 1 }).toBuffer();
}

function cellOf(cell: TableCell) {
  if (cell === null) return null;
  return typeof cell === "number" ? { value: cell, type: Number } : { value: cell, type: String };
}

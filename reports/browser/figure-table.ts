import type { TableCell } from "../../src/report/csv-table.ts";

/** The table under a figure as rows of cells, its heads first; what stands to the right as figures are numbers where they are. */
export function figureTable(figure: Element): TableCell[][] {
  const tables = [...figure.querySelectorAll("table")];
  const heads = [...(tables[0]?.tHead?.rows[0]?.cells ?? [])].map((cell) => cell.textContent ?? "");
  const rows = tables.flatMap((table) =>
    [...table.tBodies, ...(table.tFoot === null ? [] : [table.tFoot])].flatMap(({ rows }) => [...rows]),
  );
  return [heads, ...rows.map((row) => [...row.cells].map(cellOf))];
}

/** A whole figure as tables write it, with or without commas between thousands. */
const FIGURE = /^-?(\d{1,3}(,\d{3})*|\d+)(\.\d+)?$/;

function cellOf(cell: HTMLTableCellElement): TableCell {
  const lines = [...cell.querySelectorAll(".line")].map((line) => line.textContent ?? "");
  const text = lines.length > 0 ? lines.join("; ") : (cell.textContent ?? "");
  if (text === "–") return null;
  return cell.classList.contains("figures") && FIGURE.test(text) ? Number(text.replaceAll(",", "")) : text;
}

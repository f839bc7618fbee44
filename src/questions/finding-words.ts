import type { OwnCell } from "./trace-types.ts";

/**
 * What a finding is about, as its owner has it: the column, the cell, and our reading of it where that differs.
 * @example findingWords({ column: "Out", cell: "03/04/2020", value: "2020-04-03" }); // 'Out "03/04/2020", read as 2020-04-03'
 */
export function findingWords({ column, cell, value }: OwnCell & { value: string | null }): string {
  const stood = cell ?? value ?? "";
  return `${column === null ? "" : `${column} `}${quoted(stood)}${readingWords({ cell, value })}`;
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/**
 * Our reading of a cell, where that is not what stands there: a day in our form; else what the finding weighs, which may come from
 * other cells of the row too.
 */
export function readingWords({ cell, value }: Pick<OwnCell, "cell"> & { value: string | null }): string {
  if (value === null || cell === null || cell.trim() === value.trim()) return "";
  if (DAY.test(value)) return `, read as ${value}`;
  const [figure, read] = [cell.replace(",", "."), value].map(Number.parseFloat) as [number, number];
  return figure === read ? "" : ` (${value})`;
}

/** The same with our name of the field before it: 'removed_on (Out) "03/04/2020", read as 2020-04-03'. */
export function aboutWords({ field, column, ...told }: OwnCell & { field: string; value: string | null }): string {
  return `${field}${column === null ? "" : ` (${column})`} ${findingWords({ ...told, column: null })}`;
}

/** A text as it stands, or that there is none. */
export function quoted(text: string | null): string {
  return text === null || text === "" ? "blank" : `"${text}"`;
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import { dayByPattern, isSerial } from "../mapping/date-sql.ts";

export type DateColumn = { place: number; patterns: string[] };

/** Rows in which both of two dates stand, and those in which the first comes after the second. */
export type Order = { both: number; after: number };

/** How the dates of the table `cells` come after each other: per pair of columns, by their order in the list. */
export async function dateOrder(connection: DuckDBConnection, dates: DateColumn[]): Promise<Order[][]> {
  if (dates.length < 2) return dates.map(() => [{ both: 0, after: 0 }]);
  const days = dates.map(({ place, patterns }, index) => `${daySql(sourceColumn(place - 1), patterns)} as d${index}`);
  const names: Record<string, "integer"> = {};
  const counts = dates.flatMap((_, one) =>
    dates.flatMap((__, two) => {
      names[`b${one}_${two}`] = "integer";
      names[`a${one}_${two}`] = "integer";
      return [
        `(count(*) filter (d${one} is not null and d${two} is not null))::integer as b${one}_${two}`,
        `(count(*) filter (d${one} > d${two}))::integer as a${one}_${two}`,
      ];
    }),
  );
  const found: Record<string, Int32Array> = await columns(
    connection,
    `select ${counts.join(", ")} from (select ${days.join(", ")} from cells)`,
    names,
  );
  return dates.map((_, one) =>
    dates.map((__, two) => ({ both: found[`b${one}_${two}`]?.[0] ?? 0, after: found[`a${one}_${two}`]?.[0] ?? 0 })),
  );
}

/** SQL of the day in a cell by any of its patterns, NULL where it is none. */
export function daySql(cell: string, patterns: string[]): string {
  const parsed = patterns
    .filter((pattern) => !isSerial(pattern))
    .map((pattern) => `${dayByPattern(cell, pattern)}::date`);
  const serial = patterns.some(isSerial)
    ? [`date '1899-12-30' + try_cast(regexp_extract(${cell}, '^[0-9]{5}') as integer)`]
    : [];
  return `coalesce(${["null::date", ...parsed, ...serial].join(", ")})`;
}

/** Places of the dates in the order in which they come, by how often each lies before the others. */
export function ranksOf(order: Order[][]): number[] {
  const before = order.map((row) =>
    row.reduce((sum, { both, after }) => sum + (both === 0 ? 0.5 : 1 - after / both), 0),
  );
  const sorted = [...before.keys()].sort((a, b) => before[b]! - before[a]!);
  return before.map((_, index) => sorted.indexOf(index));
}

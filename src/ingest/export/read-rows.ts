import { tmpdir } from "node:os";
import type { DuckDBConnection } from "@duckdb/node-api";
import { defaultMemory, memorySize } from "../../store/memory-size.ts";
import { cellNames, csvSource, sourceColumn } from "./csv-source.ts";
import { withEngine } from "./engine.ts";
import type { OpenExport } from "./open-table.ts";

/** A row's cells; NULL where blank. Those beyond the header come only where one holds something. */
export type RowCells = { header: string; cell: string | null }[];

/**
 * The cells of some rows as they stand in the export, by the numbers of their records; an empty line has none, and a row that is not
 * there is not in the map. For showing, a few rows.
 * @param connection - one that may read files, or else an engine of its own reads them
 */
export async function readRows(
  connection: DuckDBConnection,
  source: OpenExport,
  rows: number[],
): Promise<Map<number, RowCells>> {
  const found = new Map<number, RowCells>();
  const blanks = new Set(source.blanks);
  for (const row of rows) if (blanks.has(row)) found.set(row, []);
  const places = new Map(rows.filter((row) => !blanks.has(row)).map((row) => [placeOf(row, source.blanks), row]));
  if (places.size === 0) return found;
  const read = async (reader: DuckDBConnection) => {
    for (const [nth, cells] of await cellsAt(reader, source, [...places.keys()])) found.set(places.get(nth)!, cells);
  };
  const { mayRead, memory } = await settingsOf(connection);
  await (mayRead ? read(connection) : withEngine(tmpdir(), read, { memory }));
  return found;
}

/** Which record of the table a row is, from 1: empty lines are not in it. */
function placeOf(row: number, blanks: number[]): number {
  return row - blanks.filter((blank) => blank < row).length;
}

/** Whether it may read files, and the memory it may take, which another engine then keeps to as well. */
async function settingsOf(connection: DuckDBConnection): Promise<{ mayRead: boolean; memory: number }> {
  const sql = "select current_setting('enable_external_access'), current_setting('memory_limit')";
  const [row = []] = await (await connection.run(sql)).getRows();
  return { mayRead: row[0] === true, memory: memorySize(String(row[1])) ?? defaultMemory() };
}

async function cellsAt(
  connection: DuckDBConnection,
  source: OpenExport,
  places: number[],
): Promise<[number, RowCells][]> {
  const names = cellNames(source);
  const columns = names.map((_, index) => sourceColumn(index));
  const sql = `select nth::integer, ${columns.join(", ")} from (select row_number() over () as nth, * from ${csvSource(source)}) where nth in (${places.join(", ")})`;
  const read = await (await connection.run(sql)).getRows();
  return read.map(([nth, ...cells]) => {
    const named = names.map((header, index) => ({ header, cell: (cells[index] ?? null) as string | null }));
    return [Number(nth), named.filter(({ cell }, index) => index < source.header.length || cell !== null)];
  });
}

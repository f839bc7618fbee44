import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { fileById } from "../ingest/known-file.ts";
import { readCells, type SourceCell } from "../ingest/trace/read-cells.ts";
import { columns } from "../store/columns.ts";

/** A row of a file; null: a whole column of it. */
export type ExamplePlace = { fileId: number; row: number | null };

/** So many bytes of exports are read back for examples; those of a workbook take so many times as long as those of a text. */
const BYTES = 32 << 20;
const WORKBOOK = 16;

type Row = { file_id: number; row: number };

/**
 * The cells of a few rows as they stand in their exports: of rows set aside from the store, of others from the kept copies, one pass a
 * file, the first files first, for as many bytes as are soon read. Null where that is not known.
 */
export async function exampleCells(
  connection: DuckDBConnection,
  { storePath }: { storePath: string },
  places: ExamplePlace[],
): Promise<(place: ExamplePlace) => SourceCell[] | null> {
  const wanted = places.flatMap(({ fileId, row }): Row[] => (row === null ? [] : [{ file_id: fileId, row }]));
  const found = await asideCells(connection, wanted);
  const left = wanted.filter((row) => !found.has(keyOf(row)));
  const costs = await costsOf(connection);
  let spent = 0;
  for (const fileId of new Set(left.map(({ file_id }) => file_id))) {
    spent += costs.get(fileId) ?? 0;
    if (spent > BYTES) break;
    const rows = new Set(left.flatMap(({ file_id, row }) => (file_id === fileId ? [row] : [])));
    for (const [row, cells] of await keptCells(connection, storePath, fileId, [...rows])) {
      found.set(keyOf({ file_id: fileId, row }), cells);
    }
  }
  return ({ fileId, row }) => (row === null ? null : (found.get(keyOf({ file_id: fileId, row })) ?? null));
}

function keyOf({ file_id, row }: Row): string {
  return `${file_id}:${row}`;
}

/** The store has the text of the rows that it set aside. */
async function asideCells(connection: DuckDBConnection, wanted: Row[]): Promise<Map<string, SourceCell[]>> {
  const found = await columns(
    connection,
    `select file_id, row, raw from landing.set_aside
     semi join (select unnest(from_json($rows, '[{"file_id": "INTEGER", "row": "INTEGER"}]'), recursive := true)) using (file_id, row)
     order by file_id, row`,
    { file_id: "integer", row: "integer", raw: "text" },
    { rows: JSON.stringify(wanted) },
  );
  return new Map(
    found.raw.map((raw, index) => [
      keyOf({ file_id: found.file_id[index]!, row: found.row[index]! }),
      Object.entries(JSON.parse(raw) as Record<string, string>).map(([column, value]) => ({ column, value })),
    ]),
  );
}

async function costsOf(connection: DuckDBConnection): Promise<Map<number, number>> {
  const found = await columns(
    connection,
    `select file_id, (bytes * case when reading->>'$.format' = 'xlsx' then ${WORKBOOK} else 1 end)::double as cost
     from landing.file order by file_id`,
    { file_id: "integer", cost: "number" },
  );
  return new Map(Array.from(found.file_id, (fileId, index) => [fileId, found.cost[index]!]));
}

/** None where the kept copy can't be read: `framelife trace` says why. */
async function keptCells(
  connection: DuckDBConnection,
  storePath: string,
  fileId: number,
  rows: number[],
): Promise<Map<number, SourceCell[]>> {
  try {
    return await readCells(connection, storePath, await fileById(connection, fileId), rows);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return new Map();
  }
}

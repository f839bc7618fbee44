import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../errors.ts";
import { openKept } from "../export/kept-export.ts";
import { readRows } from "../export/read-rows.ts";
import { shownPath } from "../ingest-file.ts";
import type { KnownFile } from "../known-file.ts";

/** A cell as it stood, under the header of its column. */
export type SourceCell = { column: string; value: string };

/**
 * Rows of an export as they stood when it was read, from its kept copy; cells that are blank are left out.
 * @throws UserError if the kept copy is gone or damaged
 */
export async function readCells(
  connection: DuckDBConnection,
  storePath: string,
  file: KnownFile,
  rows: number[],
): Promise<Map<number, SourceCell[]>> {
  const { sha256, reading } = file;
  const source = await openKept(storePath, { sha256, shownPath: shownPath(file), reading }).catch((error: unknown) => {
    throw damaged(file, error);
  });
  try {
    const found = await readRows(connection, source, rows);
    return new Map(
      [...found].map(([row, cells]) => [
        row,
        cells.flatMap(({ header, cell }) => (cell === null || cell === "" ? [] : [{ column: header, value: cell }])),
      ]),
    );
  } finally {
    await source.close();
  }
}

/** A copy that can't be unpacked any more is the disk's fault; what else goes wrong is ours. */
function damaged(file: KnownFile, error: unknown): unknown {
  if (error instanceof UserError || !(error instanceof Error) || !("code" in error)) return error;
  return new UserError(
    `Cannot look up rows of ${shownPath(file)}: its kept copy is damaged (${error.message}); put back the export and run "framelife ingest" into a new store`,
    1,
    { cause: error },
  );
}

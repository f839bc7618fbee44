import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { csvSource, sourceColumn } from "../export/csv-source.ts";
import { fingerprint } from "../export/fingerprint.ts";
import { exportsFolder, unpackExport } from "../export/kept-export.ts";
import { openExport } from "../export/open-export.ts";
import { shownPath } from "../ingest-file.ts";
import type { KnownFile } from "../known-file.ts";

/** A cell as it stood, under the header of its column. */
export type SourceCell = { column: string; value: string };

/**
 * Rows of an export as they stood when it was read, from its kept copy; cells that are blank are left out.
 * In an engine of its own: the store's may reach no files.
 * @throws UserError if the kept copy is gone
 */
export async function readCells(
  storePath: string,
  file: KnownFile,
  rows: number[],
): Promise<Map<number, SourceCell[]>> {
  const scratch = await mkdtemp(join(tmpdir(), "framelife-trace-"));
  const engine = await DuckDBInstance.create(":memory:", { autoinstall_known_extensions: "false" });
  const connection = await engine.connect();
  try {
    const path = join(scratch, "export");
    await unpackExport(exportsFolder(storePath), file.sha256, shownPath(file), path);
    const source = await openExport({
      path,
      shownPath: shownPath(file),
      reading: file.reading,
      wanted: [],
      mark: await fingerprint(path),
      scratch,
    });
    const nth = rows.map((row) => row - source.blanks.filter((blank) => blank < row).length);
    const names = source.header.map((_, index) => sourceColumn(index));
    const found = await columns(
      connection,
      `select nth, to_json([${names.join(", ")}])::varchar as cells from (select row_number() over ()::integer as nth, * from ${csvSource(source)})
       where list_contains($nth::integer[], nth)`,
      { nth: "integer", cells: "text" },
      { nth: JSON.stringify(nth) },
    );
    await source.close();
    const cells = new Map<number, SourceCell[]>();
    rows.forEach((row, index) => {
      const at = found.nth.indexOf(nth[index]!);
      if (at < 0 || source.blanks.includes(row)) return;
      const values = JSON.parse(found.cells[at]!) as (string | null)[];
      const named = values.map((value, column) => ({ column: source.header[column] ?? "", value: value ?? "" }));
      cells.set(
        row,
        named.filter(({ value }) => value !== ""),
      );
    });
    return cells;
  } finally {
    connection.closeSync();
    engine.closeSync();
    await rm(scratch, { recursive: true, force: true });
  }
}

import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { csvSource, rawJson } from "./export/csv-source.ts";
import { fingerprint } from "./export/fingerprint.ts";
import { exportsFolder, unpackExport } from "./export/kept-export.ts";
import { type OpenExport, openExport } from "./export/open-export.ts";
import { fileById } from "./known-file.ts";

/** Moves the rows of the temp table `unread` to landing.set_aside, each with its raw text, read back from its export. */
export async function setAsideWithRaw(
  connection: DuckDBConnection,
  current: { fileId: number; source: OpenExport },
  storePath: string,
): Promise<void> {
  const { file_id } = await columns(connection, "select distinct file_id from unread order by file_id", {
    file_id: "integer",
  });
  for (const fileId of file_id) {
    if (fileId === current.fileId) await readBack(connection, fileId, current.source);
    else await withKeptExport(connection, fileId, storePath, (source) => readBack(connection, fileId, source));
  }
}

async function readBack(connection: DuckDBConnection, fileId: number, source: OpenExport): Promise<void> {
  await connection.run(
    `insert into landing.set_aside
     select file_id, row, outcome, because, ${rawJson(source.header)}
     from (
       select unread.*, row - (select count(*) from (select unnest($blanks::integer[]) as blank_row) where blank_row < row) as nth
       from unread where file_id = $file_id
     )
     join (select row_number() over () as nth, * from ${csvSource(source)}) using (nth)`,
    { file_id: fileId, blanks: JSON.stringify(source.blanks) },
  );
}

async function withKeptExport(
  connection: DuckDBConnection,
  fileId: number,
  storePath: string,
  use: (source: OpenExport) => Promise<void>,
): Promise<void> {
  const { path: shownPath, sha256, encoding, delimiter } = await fileById(connection, fileId);
  const folder = exportsFolder(storePath);
  const scratch = await mkdtemp(join(folder, "unpacked-"));
  try {
    const path = join(scratch, "export.csv");
    await unpackExport(folder, sha256, shownPath, path);
    const source = await openExport({ path, shownPath, encoding, delimiter, mark: await fingerprint(path), scratch });
    await use(source);
    await source.close();
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

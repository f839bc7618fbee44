import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Reading } from "./export/reading.ts";

/** Whether an export lies where it was read; other bytes came in its place; no pipeline finds it any more. */
export type FileState = "there" | "replaced" | "gone";

/** A file as the store knows it. */
export type KnownFile = {
  fileId: number;
  /** Relative to the workspace. */
  path: string;
  sheet?: string;
  sha256: string;
  pipeline: string;
  pipelineSha256: string;
  reading: Reading;
  state: FileState;
  places: { pipeline: number; pattern: number; sheet: number };
};

/** What is known of the files that were read, in the order of reading. */
export async function knownFiles(connection: DuckDBConnection): Promise<KnownFile[]> {
  return filesWhere(connection, "true", {});
}

/** The file of this number. */
export async function fileById(connection: DuckDBConnection, fileId: number): Promise<KnownFile> {
  const [found] = await filesWhere(connection, "file_id = $file_id", { file_id: fileId });
  if (found === undefined) throw new RangeError(`Cannot find file ${fileId} in the store`);
  return found;
}

/** A number that no file has yet; numbers grow in the order of reading. */
export async function nextFileId(connection: DuckDBConnection): Promise<number> {
  const sql = "select coalesce(max(file_id), 0) + 1 as next from landing.file";
  return (await columns(connection, sql, { next: "integer" })).next[0]!;
}

async function filesWhere(
  connection: DuckDBConnection,
  where: string,
  values: Record<string, DuckDBValue>,
): Promise<KnownFile[]> {
  const found = await columns(
    connection,
    `from landing.file where ${where} order by file_id`,
    {
      file_id: "integer",
      path: "text",
      sheet: "text",
      sha256: "text",
      pipeline: "text",
      pipeline_sha256: "text",
      reading: "text",
      state: "text",
      pipeline_place: "integer",
      pattern_place: "integer",
      sheet_place: "integer",
    },
    values,
  );
  return Array.from(found.file_id, (fileId, index) => ({
    fileId,
    path: found.path[index]!,
    ...(found.sheet[index] === "" ? {} : { sheet: found.sheet[index]! }),
    sha256: found.sha256[index]!,
    pipeline: found.pipeline[index]!,
    pipelineSha256: found.pipeline_sha256[index]!,
    reading: JSON.parse(found.reading[index]!) as Reading,
    state: found.state[index]! as FileState,
    places: {
      pipeline: found.pipeline_place[index]!,
      pattern: found.pattern_place[index]!,
      sheet: found.sheet_place[index]!,
    },
  }));
}

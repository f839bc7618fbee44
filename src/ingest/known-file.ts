import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Encoding } from "./export/open-export.ts";

/** A file as the store knows it. */
export type KnownFile = {
  fileId: number;
  path: string;
  sha256: string;
  pipelineSha256: string;
  encoding: Encoding;
  delimiter: string;
};

/** The latest state in which the store knows the file of this path, as read by this pipeline. */
export async function knownFile(
  connection: DuckDBConnection,
  path: string,
  pipeline: string,
): Promise<KnownFile | undefined> {
  return firstFile(connection, "path = $path and pipeline = $pipeline", { path, pipeline });
}

/** The file of this number. */
export async function fileById(connection: DuckDBConnection, fileId: number): Promise<KnownFile> {
  const found = await firstFile(connection, "file_id = $file_id", { file_id: fileId });
  if (found === undefined) throw new RangeError(`Cannot find file ${fileId} in the store`);
  return found;
}

/** A number that no file has yet; numbers grow in the order of reading. */
export async function nextFileId(connection: DuckDBConnection): Promise<number> {
  const sql = "select coalesce(max(file_id), 0) + 1 as next from landing.file";
  return (await columns(connection, sql, { next: "integer" })).next[0]!;
}

async function firstFile(
  connection: DuckDBConnection,
  where: string,
  values: Record<string, string | number>,
): Promise<KnownFile | undefined> {
  const found = await columns(
    connection,
    `from landing.file where ${where} order by file_id desc limit 1`,
    { file_id: "integer", path: "text", sha256: "text", pipeline_sha256: "text", encoding: "text", delimiter: "text" },
    values,
  );
  if (found.file_id.length === 0) return undefined;
  return {
    fileId: found.file_id[0]!,
    path: found.path[0]!,
    sha256: found.sha256[0]!,
    pipelineSha256: found.pipeline_sha256[0]!,
    encoding: found.encoding[0]! as Encoding,
    delimiter: found.delimiter[0]!,
  };
}

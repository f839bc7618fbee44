import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { inRowOrder } from "../store/row-order.ts";
import { csvSource, rawJson } from "./export/csv-source.ts";
import type { OpenExport } from "./export/open-export.ts";

/** Gives the rows set aside of which the text was not kept in staging their raw text, read back from the export. */
export async function readRawBack(connection: DuckDBConnection, fileId: number, source: OpenExport): Promise<void> {
  const { wanting } = await columns(
    connection,
    "select count(*)::integer as wanting from landing.set_aside where file_id = $file_id and raw = ''",
    { wanting: "integer" },
    { file_id: fileId },
  );
  if (wanting[0] === 0) return;
  const update = `update landing.set_aside a set raw = read.raw
     from (
       select row, ${rawJson(source)} as raw
       from (
         select file_id, row, row - (select count(*) from (select unnest($blanks::integer[]) as blank_row) where blank_row < row) as nth
         from landing.set_aside where file_id = $file_id and raw = ''
       )
       join (select row_number() over () as nth, * from ${csvSource(source)}) using (nth)
     ) read
     where a.file_id = $file_id and a.row = read.row`;
  const values = { file_id: fileId, blanks: JSON.stringify(source.blanks) };
  await inRowOrder(connection, () => connection.run(update, values));
}

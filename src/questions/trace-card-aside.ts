import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Settings } from "../workspace/workspace.ts";
import { ownerColumns } from "./owner-columns.ts";
import type { Place } from "./trace-id.ts";

/**
 * The rows in quarantine that have the number of a card on record where its fleet's exports have that: another version of it, or what an
 * export that came later says of it. They are in no record.
 */
export async function cardPlacesAside(connection: DuckDBConnection, settings: Settings, id: string): Promise<Place[]> {
  const found = await columns(
    connection,
    `with told as (
       select distinct fleet, card from records.rebuild_row where concat_ws('/', fleet, card) = $id
     ),
     telling as (
       select distinct pipeline from landing.file
       semi join (select file_id from records.rebuild_row semi join told using (fleet)) using (file_id)
     )
     select file_id, a.row, raw, card
     from landing.set_aside a join landing.file using (file_id) semi join telling using (pipeline) cross join told
     where outcome = 'quarantined' and contains(lower(raw), lower(card)) order by file_id, a.row`,
    { file_id: "integer", row: "integer", raw: "text", card: "text" },
    { id },
  );
  if (found.raw.length === 0) return [];
  const ownersOf = await ownerColumns(connection, settings);
  return [...found.raw].flatMap((raw, index) => {
    const [fileId, card] = [found.file_id[index]!, found.card[index]!];
    const column = ownersOf(fileId).columnOf("card")?.column;
    const cell = column === undefined ? undefined : (JSON.parse(raw) as Record<string, unknown>)[column];
    return alike(cell) === alike(card) ? [{ fileId, row: found.row[index]! }] : [];
  });
}

function alike(text: unknown): string {
  return String(text ?? "")
    .trim()
    .toLowerCase();
}

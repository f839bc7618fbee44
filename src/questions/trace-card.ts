import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Place } from "./trace-id.ts";
import type { CardVersion, Difference, SourceRow } from "./trace-types.ts";

/** A row of a card with what orders and tells apart its versions. */
export type CardPlace = Place & { trace: string; version: string; standing: string };

/** The rows of a card in the order of its versions: all that any export told of it, whatever became of them. */
export async function cardPlaces(connection: DuckDBConnection, id: string): Promise<CardPlace[]> {
  const found = await columns(
    connection,
    `select r.file_id, r.row, concat_ws(':', name, r.row) as trace, standing,
            part || '/' || r.file_id || case when layout = 'wide' then '/' || r.row else '' end as version
     from records.rebuild_row r join source_name using (file_id) join landing.file using (file_id)
     where concat_ws('/', fleet, card) = $id
     order by part, max(revised_on) over (partition by part, r.file_id, case when layout = 'wide' then r.row end) nulls first, rank, r.row`,
    { file_id: "integer", row: "integer", trace: "text", standing: "text", version: "text" },
    { id },
  );
  return found.trace.map((trace, index) => ({
    fileId: found.file_id[index]!,
    row: found.row[index]!,
    trace,
    version: found.version[index]!,
    standing: found.standing[index]!,
  }));
}

/** The versions of a card in their order, each with what it says otherwise than the one before. */
export function cardVersions(places: CardPlace[], rows: SourceRow[]): CardVersion[] {
  const recorded = new Map(rows.map((row) => [row.trace, row.recorded]));
  const versions = [...new Set(places.map(({ version }) => version))].map((name) => {
    const own = places.filter((place) => place.version === name);
    const values = new Map<string, Recorded>();
    for (const { field, value } of own.flatMap(({ trace }) => recorded.get(trace) ?? []))
      if (!values.has(field)) values.set(field, value);
    return { own, part: name.split("/")[0] as CardVersion["part"], values };
  });
  return versions.map(({ own, part, values }, index) => {
    const before = versions.slice(0, index).findLast((version) => version.part === part);
    return {
      part,
      rows: own.map(({ trace }) => trace),
      standing: standingOf(own),
      differs: before === undefined ? [] : differences(before.values, values),
    };
  });
}

type Recorded = SourceRow["recorded"][number]["value"];

function standingOf(places: CardPlace[]): string {
  const standings = new Set(places.map(({ standing }) => standing));
  return ["current", "superseded"].find((one) => standings.has(one)) ?? "duplicate";
}

function differences(before: Map<string, Recorded>, after: Map<string, Recorded>): Difference[] {
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((field) => {
    const [was, is] = [before.get(field) ?? null, after.get(field) ?? null];
    return was === is ? [] : [{ field, before: was, after: is }];
  });
}

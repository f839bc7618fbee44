import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";

/**
 * The frame that a person means by its number, in any case, with its fleet before it ("saltmere/SD-014") or apart.
 * @throws UserError if there is none, with the nearest number, or several fleets have one of that number
 */
export async function knownUnit(
  connection: DuckDBConnection,
  { unit: typed, fleet: asked }: { unit: string; fleet?: string },
): Promise<{ fleet: string; unit: string }> {
  const found = await columns(
    connection,
    `with unit as (
       select fleet, unit from records.rebuild where unit is not null union select fleet, unit from records.unit
     )
     select fleet, unit from unit
     where lower($typed) in (lower(unit), lower(concat_ws('/', fleet, unit))) and coalesce(fleet = $fleet, true) order by fleet, unit`,
    { fleet: "text", unit: "text" },
    { typed: typed.trim(), fleet: asked ?? null },
  );
  const exact = found.unit.indexOf(typed.trim());
  const one =
    found.unit.length === 1
      ? 0
      : exact >= 0 && found.unit.filter((unit) => unit === typed.trim()).length === 1
        ? exact
        : -1;
  if (one >= 0) return { fleet: found.fleet[one]!, unit: found.unit[one]! };
  if (found.unit.length > 1) {
    const names = found.unit.map((unit, at) => `${found.fleet[at]}/${unit}`);
    throw new UserError(
      `Cannot tell which frame is meant by "${typed}": there are ${names.join(", ")}; name one so`,
      2,
    );
  }
  throw new UserError(
    `Cannot find frame "${typed}": no card or list${asked === undefined ? "" : ` of ${asked}`} has it${await nearestUnit(connection, typed, asked)}`,
    2,
  );
}

async function nearestUnit(connection: DuckDBConnection, typed: string, fleet: string | undefined): Promise<string> {
  const { unit } = await columns(
    connection,
    `select unit from (select fleet, unit from records.rebuild where unit is not null union select fleet, unit from records.unit)
     where coalesce(fleet = $fleet, true) order by levenshtein(lower(unit), lower($typed)), unit limit 1`,
    { unit: "text" },
    { typed: typed.trim(), fleet: fleet ?? null },
  );
  return unit.length === 0 ? "; read exports first (framelife ingest)" : `; the nearest is ${unit[0]}`;
}

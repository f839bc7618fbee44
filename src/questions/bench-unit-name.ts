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
  const place = await positionNamed(connection, typed, asked);
  if (place !== null) throw new UserError(`Cannot find frame "${typed}": ${place}`, 2);
  throw new UserError(
    `Cannot find frame "${typed}": no card or list${asked === undefined ? "" : ` of ${asked}`} has it${await nearestUnit(connection, typed, asked)}`,
    2,
  );
}

/** Who stands before a pump knows its place: which frame a card put there last, or a list from the start. */
async function positionNamed(
  connection: DuckDBConnection,
  typed: string,
  fleet: string | undefined,
): Promise<string | null> {
  const found = await columns(
    connection,
    `with put as (
       select fleet, position, unit, coalesce(installed_on, built_on, removed_on) as "on" from records.rebuild where unit is not null
       union all
       select fleet, position, unit, null from records.unit
     )
     select concat_ws('/', fleet, position) as position, concat_ws('/', fleet, arg_max(unit, coalesce("on", '0001-01-01'::date))) as unit from put
     where lower($typed) in (lower(position), lower(concat_ws('/', fleet, position))) and coalesce(fleet = $fleet, true)
     group by put.fleet, put.position order by all`,
    { position: "text", unit: "text" },
    { typed: typed.trim(), fleet: fleet ?? null },
  );
  if (found.position.length === 0) return null;
  const frames = found.unit.map((unit, at) => `${unit} at ${found.position[at]}`);
  return `it is a position; the frame last put there is ${frames.join(", and ")}; ask "framelife bench ${found.unit[0]}", or "framelife trace position:${found.position[0]}" for all that ran there`;
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

import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import type { Stretches } from "../stats/offenders/expected-events.ts";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import type { Basis, By } from "./answer.ts";
import { emptyBasis } from "./basis.ts";
import { addCountedEnds, endsCounted } from "./counted-ends.ts";
import { makeGrouped, runs } from "./grouped-table.ts";
import { ENTITY_KINDS, type EntityKind } from "./offenders-answer.ts";
import type { Scope } from "./scope.ts";

/** The service of one fleet by what may be an offender in it, and what could not be used. */
export type FleetExposure = {
  by: By;
  basis: Basis;
  /** Names of the entities, by number. */
  ids: string[];
  /** Service at risk, by entity and time. */
  stretches: Stretches;
  /** Of each entity, rebuilds for another reason than failure. */
  planned: Float64Array;
  /** Of each stretch the number of its unit and of its position among the names; -1 where that is not on record. */
  unit: Int32Array;
  units: string[];
  place: Int32Array;
  places: string[];
};

const USED = "left_out ends unit position site model slot batch age_entry age_stop start_on life_id build_number".split(
  " ",
);

/** Columns of `exposed` that are the stretch itself, not a way to tell stretches apart. */
const NOT_FOR_GROUPS = new Set(
  "trace age_entry age_stop left_out ends start_on stop_on days hours entry_days entry_hours start_days start_hours stop_days stop_hours last_seen_days last_seen_hours low_days low_hours left_out_days left_out_hours status ended_by assumed_running hours_estimated start_file start_row stop_file stop_row life_id unit_id place_id".split(
    " ",
  ),
);

/** Reads the service of `exposed` that is in scope, by fleet, or whole for a plain table. */
export async function fleetExposures(
  connection: DuckDBConnection,
  scope: Scope,
  { by, kind }: { by: string[]; kind: EntityKind },
): Promise<FleetExposure[]> {
  const { name: known } = await columns(connection, "select column_name as name from (describe exposed)", {
    name: "text",
  });
  if (!known.includes(kind)) throw noColumn(kind, known.filter(isKind));
  const column = quoteIdentifier(kind);
  const unusable = `coalesce(left_out, case when ${column} is null then 'no_${kind}' end)`;
  const names = await makeGrouped(connection, {
    table: "exposed",
    scope,
    by,
    hidden: NOT_FOR_GROUPS,
    used: USED,
    also: `${unusable} as unusable`,
    counted: endsCounted(unusable),
  });
  const fleets = names.map(emptyFleet);
  await addCountedEnds(connection, fleets);
  await addStretches(connection, fleets, kind);
  return fleets;
}

function isKind(name: string): boolean {
  return (ENTITY_KINDS as readonly string[]).includes(name);
}

/** Of a table that lacks the column of what is to be judged. */
export function noColumn(kind: EntityKind, known: string[]): UserError {
  return new UserError(
    `Cannot look for offenders by ${kind}: there is no such column; it can be --by ${known.join(", ")}`,
    2,
  );
}

/** Models age each in their own way, and components by their slot; models themselves are held against each other. */
function stratumSql(kind: EntityKind, known: ReadonlySet<string>): string {
  const parts = ["slot", "model"].filter((name) => known.has(name) && name !== kind).map(quoteIdentifier);
  return parts.length === 0 ? "''" : `concat_ws(' ', ${parts.join(", ")})`;
}

async function addStretches(connection: DuckDBConnection, fleets: FleetExposure[], kind: EntityKind): Promise<void> {
  const described = await columns(connection, "select column_name as name from (describe grouped)", { name: "text" });
  const known = new Set(described.name);
  const position = known.has("position") ? "position" : "null";
  // At a position frames follow each other; of all else each unit has its own history.
  const history = kind === "position" ? "start_on" : "unit, start_on";
  const found = await columns(
    connection,
    `select group_number, ${quoteIdentifier(kind)}::varchar as entity, ${stratumSql(kind, known)} as stratum, unit, ${position} as position,
            age_entry, age_stop, ends
     from grouped where unusable is null
     order by group_number, entity, ${history}, age_entry, age_stop, unit, ends`,
    {
      group_number: "integer",
      entity: "category",
      stratum: "category",
      unit: "category",
      position: "category",
      age_entry: "number",
      age_stop: "number",
      ends: "category",
    },
  );
  const failure = found.ends.words.indexOf("failure");
  const planned = found.ends.words.indexOf("planned");
  for (const [number, from, to] of runs(found.group_number)) {
    const entity = renumbered(found.entity.codes.subarray(from, to));
    const unit = renumbered(found.unit.codes.subarray(from, to));
    const place = renumbered(found.position.codes.subarray(from, to));
    const ends = found.ends.codes.subarray(from, to);
    const own = fleets[number]!;
    own.ids = entity.codes.map((code) => found.entity.words[code]!);
    own.units = unit.codes.map((code) => found.unit.words[code]!);
    own.places = place.codes.map((code) => found.position.words[code]!);
    own.unit = unit.numbers;
    own.place = place.numbers;
    own.stretches = {
      entity: entity.numbers,
      stratum: renumbered(found.stratum.codes.subarray(from, to)).numbers,
      entry: found.age_entry.slice(from, to),
      stop: found.age_stop.slice(from, to),
      event: Uint8Array.from(ends, (end) => (end === failure ? 1 : 0)),
    };
    own.planned = new Float64Array(own.ids.length);
    ends.forEach((end, row) => {
      if (end === planned) own.planned[entity.numbers[row]!]!++;
    });
  }
}

/** Numbers 0, 1, ... in the order of first appearance in place of codes; -1 stays. */
function renumbered(codes: Int32Array): { numbers: Int32Array; codes: number[] } {
  const numberOf = new Map<number, number>();
  const numbers = codes.map((code) => {
    if (code < 0) return -1;
    const known = numberOf.get(code) ?? numberOf.size;
    numberOf.set(code, known);
    return known;
  });
  return { numbers, codes: [...numberOf.keys()] };
}

function emptyFleet(by: By): FleetExposure {
  const none = new Int32Array(0);
  return {
    by,
    basis: emptyBasis(),
    ids: [],
    stretches: { entity: none, entry: new Float64Array(0), stop: new Float64Array(0), event: new Uint8Array(0) },
    planned: new Float64Array(0),
    unit: none,
    units: [],
    place: none,
    places: [],
  };
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { emptyBasis } from "./basis.ts";
import { checkedCondition } from "./conditions.ts";
import type { CountedFleet, Crossed } from "./counted-fleet.ts";
import { noColumn } from "./fleet-exposure.ts";
import type { OffendersQuestion } from "./scope.ts";

/** The entities of a plain table of counts; without a column of expected events each is held against the rate of all others. */
export async function countedTable(
  connection: DuckDBConnection,
  { where, kind }: OffendersQuestion,
): Promise<CountedFleet> {
  if (kind !== "unit" && kind !== "position") throw noColumn(kind, ["unit", "position"]);
  const condition = where === undefined ? "true" : await checkedCondition(connection, "counted_rows", where);
  const entity = kind === "position" ? "place" : "entity";
  const found = await columns(
    connection,
    `select ${entity} as id, sum(events)::double as events, sum(exposure)::double as exposure, sum(expected)::double as expected
     from counted_rows where ${condition} and ${entity} is not null group by id order by id`,
    { id: "text", events: "number", exposure: "number", expected: "number" },
  );
  const crossed = await crossedOf(connection, condition, entity);
  const basis = { ...emptyBasis(), lives: found.id.length, failed: total(found.events) };
  return {
    by: {},
    basis,
    ids: found.id,
    events: found.events,
    planned: new Float64Array(found.id.length),
    exposure: found.exposure,
    expected: Number.isNaN(found.expected[0]!) ? byOthers(found.events, found.exposure) : found.expected,
    alone: 0,
    stretches: null,
    crossed,
  };
}

/** Events to be expected of each at the rate of all the others. */
function byOthers(events: Float64Array, exposure: Float64Array): Float64Array {
  const [allEvents, allExposure] = [total(events), total(exposure)];
  return exposure.map((own, at) => {
    const others = allExposure - own;
    return others > 0 ? (own * (allEvents - events[at]!)) / others : 0;
  });
}

/** Cells of units and positions; those that are judged are numbered in the order of their names, as the entities are. */
async function crossedOf(
  connection: DuckDBConnection,
  condition: string,
  judged: "entity" | "place",
): Promise<Crossed | null> {
  const found = await columns(
    connection,
    `select entity, place, sum(events)::double as events, sum(exposure)::double as exposure, sum(expected)::double as expected
     from counted_rows where ${condition} group by entity, place order by ${judged}, entity, place`,
    { entity: "category", place: "category", events: "number", exposure: "number", expected: "number" },
  );
  const { entity, place, events, exposure, expected } = found;
  if (entity.words.length < 2 || place.words.length < 2 || place.codes.includes(-1) || entity.codes.includes(-1))
    return null;
  const known = Number.isNaN(expected[0]!) ? byOthers(events, exposure) : expected;
  const cells = {
    unit: entity.codes,
    position: place.codes,
    events,
    expected: known,
    units: entity.words.length,
    positions: place.words.length,
  };
  return { cells, units: entity.words, places: place.words, returns: null };
}

function total(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0);
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Basis, By } from "./answer.ts";
import { addToBasis, emptyBasis } from "./basis.ts";
import { makeGrouped, runs } from "./grouped-table.ts";
import type { Scope } from "./scope.ts";

/** The usable lives of one group, in a fixed order, and what could not be used. */
export type GroupOfLives = {
  by: By;
  basis: Basis;
  /** Ended by failure at `low` = `high`; unfailed at `low` where `high` is infinite; else failed between. */
  low: Float64Array;
  high: Float64Array;
  entry: Float64Array;
  count: Float64Array;
  /** 1: replaced without evidence of failing or not. */
  unknown: Uint8Array;
  /** 1: followed to the as-of date although nothing shows that it still runs. */
  assumedRunning: Uint8Array;
  /** Where the last evidence of any kind lies; NaN where there is none after the start. */
  lastSeen: Float64Array;
  /** Number of the unit that the life belongs to. */
  entity: Int32Array;
  /** Number of the position that the unit ran at; -1 where it is not known. */
  place: Int32Array;
  /** Place of the damage mode among `modes`; -1 where it is not known, or nothing failed. */
  mode: Int32Array;
  modes: string[];
  /** Lives still running: what "framelife trace" takes, unit and position, null where there are none; the oldest first. */
  running: { id: string | null; unit: string | null; position: string | null; age: number }[];
};

/** Columns of `studied` that are the life itself, not a way to tell lives apart. */
const NOT_FOR_GROUPS = new Set(
  "life_id start_on stop_on entry_days days entry_hours hours last_seen_days last_seen_hours low_days low_hours left_out_days left_out_hours left_out time_low time_high entry weight last_seen entity place mode life start_file start_row stop_file stop_row".split(
    " ",
  ),
);

/** Columns of `studied` that groups of lives are made of. */
const USED =
  "left_out status weight time_low time_high entry assumed_running last_seen entity place mode life unit position speed".split(
    " ",
  );

/** Reads the lives of `studied` that are in scope, by group, the groups in the order of their names. */
export async function groupLives(connection: DuckDBConnection, scope: Scope, by: string[]): Promise<GroupOfLives[]> {
  const names = await makeGrouped(connection, { table: "studied", scope, by, hidden: NOT_FOR_GROUPS, used: USED });
  const groups = names.map(emptyGroup);
  await addCounts(connection, groups);
  await addLives(connection, groups);
  return groups;
}

async function addCounts(connection: DuckDBConnection, groups: GroupOfLives[]): Promise<void> {
  const counts = await columns(
    connection,
    `select group_number, coalesce(left_out, '') as reason, status, sum(weight)::integer as lives
     from grouped group by group_number, reason, status order by group_number, reason, status`,
    { group_number: "integer", reason: "text", status: "text", lives: "integer" },
  );
  counts.group_number.forEach((number, row) => {
    addToBasis(groups[number]!.basis, counts.reason[row]!, counts.status[row]!, counts.lives[row]!);
  });
}

/** The distinct values of a column by number: they are fewer than the rows. */
function numbered(column: "entity" | "place"): string {
  return `select ${column}, (row_number() over (order by ${column}))::integer - 1 as number from (select distinct ${column} from grouped where ${column} is not null)`;
}

async function addLives(connection: DuckDBConnection, groups: GroupOfLives[]): Promise<void> {
  const lives = await columns(
    connection,
    `select group_number, time_low, time_high, entry, weight::double as weight, (status = 'unknown')::utinyint as unknown,
            assumed_running::utinyint as assumed, last_seen, entities.number as entity, coalesce(places.number, -1) as place, mode
     from grouped join (${numbered("entity")}) entities using (entity) left join (${numbered("place")}) places using (place)
     where left_out is null order by group_number, time_low, time_high, entry, unknown, assumed, entities.number`,
    {
      group_number: "integer",
      time_low: "number",
      time_high: "number",
      entry: "number",
      weight: "number",
      unknown: "integer",
      assumed: "integer",
      last_seen: "number",
      entity: "integer",
      place: "integer",
      mode: "category",
    },
  );
  for (const [number, from, to] of runs(lives.group_number)) {
    Object.assign(groups[number]!, {
      low: lives.time_low.slice(from, to),
      high: lives.time_high.slice(from, to),
      entry: lives.entry.slice(from, to),
      count: lives.weight.slice(from, to),
      unknown: Uint8Array.from(lives.unknown.subarray(from, to)),
      assumedRunning: Uint8Array.from(lives.assumed.subarray(from, to)),
      lastSeen: lives.last_seen.slice(from, to),
      entity: lives.entity.slice(from, to),
      place: lives.place.slice(from, to),
      mode: lives.mode.codes.slice(from, to),
      modes: lives.mode.words,
    });
  }
}

/** Gives groups their lives still running; `named` where fleets have units and positions by name, as in a workspace. */
export async function addRunning(connection: DuckDBConnection, groups: GroupOfLives[], named: boolean): Promise<void> {
  const running = await columns(
    connection,
    `select group_number, ${named ? "unit, position, life" : "entity as unit, place as position, life"}, time_low
     from grouped where left_out is null and status = 'running' order by group_number, time_low desc, unit, position`,
    { group_number: "integer", unit: "text", position: "text", life: "text", time_low: "number" },
  );
  running.group_number.forEach((number, row) => {
    groups[number]!.running.push({
      id: running.life[row] || null,
      unit: running.unit[row] || null,
      position: running.position[row] || null,
      age: running.time_low[row]!,
    });
  });
}

function emptyGroup(by: By): GroupOfLives {
  const none = new Float64Array(0);
  return {
    by,
    basis: emptyBasis(),
    low: none,
    high: none,
    entry: none,
    count: none,
    unknown: new Uint8Array(0),
    assumedRunning: new Uint8Array(0),
    lastSeen: none,
    entity: new Int32Array(0),
    place: new Int32Array(0),
    mode: new Int32Array(0),
    modes: [],
    running: [],
  };
}

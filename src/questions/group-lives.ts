import type { DuckDBConnection } from "@duckdb/node-api";
import type { IntervalLives } from "../stats/lives.ts";
import { columns } from "../store/columns.ts";
import type { Basis, By } from "./answer.ts";
import { addToBasis, emptyBasis } from "./basis.ts";
import { makeGrouped } from "./grouped-table.ts";
import { distinctCounter, inOrder, rowsByGroup } from "./rows-by-group.ts";
import type { Scope } from "./scope.ts";

/** The usable lives of one group, in a fixed order, and what could not be used. */
export type GroupOfLives = {
  by: By;
  basis: Basis;
  /** Ended by failure at `low` = `high`; unfailed at `low` where `high` is infinite; else failed between. */
  low: Float64Array;
  high: Float64Array;
  /** None where no life enters late. */
  entry?: Float64Array;
  /** None where each row is one life. */
  count?: Float64Array;
  /** 1: replaced without evidence of failing or not. */
  unknown: Uint8Array;
  /** 1: followed to the as-of date although nothing shows that it still runs. */
  assumedRunning: Uint8Array;
  /** Where the last evidence of any kind lies; NaN where there is none after the start. Of no length where no life is assumed to run. */
  lastSeen: Float64Array;
  /** How many lives were read: rows where none is told apart, for then those alike are one. */
  read: number;
  /** Number of the unit that the life belongs to. This and the next are of no length where lives are not told apart. */
  entity: Int32Array;
  /** Number of the position that the unit ran at; -1 where it is not known. */
  place: Int32Array;
  /** How many different units there are. */
  entities: number;
  /** Place of the damage mode among `modes`; -1 where it is not known, or nothing failed. Of no length where modes are not asked of. */
  mode: Int32Array;
  modes: string[];
  /** Lives still running: what "framelife trace" takes, unit and position, null where there are none; the oldest first. */
  running: { id: string | null; unit: string | null; position: string | null; age: number }[];
};

/** The lives of a group as statistics take them. */
export function intervalsOf({ low, high, entry, count }: GroupOfLives): IntervalLives {
  return { low, high, ...(entry !== undefined && { entry }), ...(count !== undefined && { count }) };
}

/** Columns of `studied` that are the life itself, not a way to tell lives apart. */
const NOT_FOR_GROUPS = new Set(
  "life_id start_on stop_on entry_days days entry_hours hours last_seen_days last_seen_hours low_days low_hours left_out_days left_out_hours left_out time_low time_high entry weight last_seen entity entity_name place place_name mode life start_file start_row stop_file stop_row".split(
    " ",
  ),
);

/** Columns of `studied` that groups of lives are made of. */
const USED =
  "left_out status weight time_low time_high entry assumed_running last_seen entity entity_name place place_name mode life life_id unit position speed".split(
    " ",
  );

type Wanted = {
  /** The columns that make the groups. */
  by: string[];
  /** Whether damage modes are asked of. */
  modes: boolean;
  /** Whether it matters which life is of which unit; where not, very many lives come as counts of those alike. */
  apart: boolean;
};

/** Lives a group from which counting those alike is worth while. */
const TALLIED_FROM = 20_000;

/** Reads the lives of `studied` that are in scope, by group, the groups in the order of their names. */
export async function groupLives(
  connection: DuckDBConnection,
  scope: Scope,
  { by, modes, apart }: Wanted,
): Promise<GroupOfLives[]> {
  const names = await makeGrouped(connection, { table: "studied", scope, by, hidden: NOT_FOR_GROUPS, used: USED });
  const groups = names.map(emptyGroup);
  const said = await addCounts(connection, groups);
  const tallied = !apart && !modes && said.lives > TALLIED_FROM * groups.length;
  await addLives(connection, groups, { ...said, modes, tallied });
  return groups;
}

/** How many lives there are, and which of the columns that few lives need any life needs. */
type Said = { lives: number; entry: boolean; weight: boolean; assumed: boolean };

async function addCounts(connection: DuckDBConnection, groups: GroupOfLives[]): Promise<Said> {
  const counts = await columns(
    connection,
    `select group_number, coalesce(left_out, '') as reason, status, sum(weight)::integer as lives,
            bool_or(entry > 0) as entry, bool_or(weight <> 1) as weight, bool_or(assumed_running) as assumed
     from grouped group by group_number, reason, status order by group_number, reason, status`,
    {
      group_number: "integer",
      reason: "text",
      status: "text",
      lives: "integer",
      entry: "boolean",
      weight: "boolean",
      assumed: "boolean",
    },
  );
  counts.group_number.forEach((number, row) => {
    addToBasis(groups[number]!.basis, counts.reason[row]!, counts.status[row]!, counts.lives[row]!);
  });
  const lives = counts.lives.reduce((sum, some) => sum + some, 0);
  return {
    lives,
    entry: counts.entry.includes(1),
    weight: counts.weight.includes(1),
    assumed: counts.assumed.includes(1),
  };
}

const ALWAYS = {
  group_number: "plain integer",
  life_id: "plain integer",
  time_low: "plain number",
  time_high: "plain number",
  unknown: "plain integer",
  assumed: "plain integer",
  entity: "plain integer",
  place: "plain integer",
} as const;

const SELDOM = { entry: "plain number", weight: "plain number", last_seen: "number", mode: "category" } as const;

type Reading = Said & { modes: boolean; tallied: boolean };

async function addLives(connection: DuckDBConnection, groups: GroupOfLives[], reading: Reading): Promise<void> {
  const { entry, weight, assumed, modes, tallied } = reading;
  const lives = await columns(connection, tallied ? tallySql(reading) : livesSql(reading), {
    ...ALWAYS,
    ...(entry && { entry: SELDOM.entry }),
    ...((weight || tallied) && { weight: SELDOM.weight }),
    ...(assumed && { last_seen: SELDOM.last_seen }),
    ...(modes && { mode: SELDOM.mode }),
  } as typeof ALWAYS & Partial<typeof SELDOM>);
  const { order, from } = rowsByGroup(lives.group_number, lives.life_id, groups.length);
  const low = inOrder(lives.time_low, order);
  const high = inOrder(lives.time_high, order);
  const unknown = Uint8Array.from(inOrder(lives.unknown, order));
  const assumedRunning = Uint8Array.from(inOrder(lives.assumed, order));
  const entries = lives.entry && inOrder(lives.entry, order);
  const weights = lives.weight && inOrder(lives.weight, order);
  const lastSeen = lives.last_seen && inOrder(lives.last_seen, order);
  const mode = lives.mode && inOrder(lives.mode.codes, order);
  groups.forEach((group, number) => {
    const [first, end] = [from[number]!, from[number + 1]!];
    Object.assign(group, {
      low: low.subarray(first, end),
      high: high.subarray(first, end),
      unknown: unknown.subarray(first, end),
      assumedRunning: assumedRunning.subarray(first, end),
      ...(entries && { entry: entries.subarray(first, end) }),
      ...(weights && { count: weights.subarray(first, end) }),
      ...(lastSeen && { lastSeen: lastSeen.subarray(first, end) }),
      ...(mode && { mode: mode.subarray(first, end), modes: lives.mode!.words }),
    });
  });
  if (tallied) return addEntities(connection, groups);
  const entity = inOrder(lives.entity, order);
  const place = inOrder(lives.place, order);
  const distinct = distinctCounter(entity);
  groups.forEach((group, number) => {
    const [first, end] = [from[number]!, from[number + 1]!];
    Object.assign(group, {
      read: end - first,
      entity: entity.subarray(first, end),
      place: place.subarray(first, end),
      entities: distinct(first, end),
    });
  });
}

/** Of each life what it is in numbers. */
function lifeColumns({ entry, assumed }: Reading): string {
  return `group_number, time_low, time_high, (status = 'unknown')::utinyint as unknown, assumed_running::utinyint as assumed
    ${entry ? ", entry" : ""}${assumed ? ", last_seen" : ""}`;
}

function livesSql(reading: Reading): string {
  const { weight, modes } = reading;
  return `select ${lifeColumns(reading)}, life_id, entity, coalesce(place, -1) as place
    ${weight ? ", weight::double as weight" : ""}${modes ? ", mode" : ""} from grouped where left_out is null`;
}

/** Lives that are alike in all that counts, as one row. */
function tallySql(reading: Reading): string {
  return `select *, 0 as life_id, 0 as entity, 0 as place
    from (select ${lifeColumns(reading)}, sum(weight)::double as weight from grouped where left_out is null group by all) order by all`;
}

async function addEntities(connection: DuckDBConnection, groups: GroupOfLives[]): Promise<void> {
  const found = await columns(
    connection,
    "select group_number, count(*)::integer as read, count(distinct entity)::integer as entities from grouped where left_out is null group by group_number",
    { group_number: "integer", read: "integer", entities: "integer" },
  );
  found.group_number.forEach((number, row) => {
    Object.assign(groups[number]!, { read: found.read[row]!, entities: found.entities[row]! });
  });
}

/** Gives groups their lives still running; `named` where fleets have units and positions by name, as in a workspace. */
export async function addRunning(connection: DuckDBConnection, groups: GroupOfLives[], named: boolean): Promise<void> {
  const running = await columns(
    connection,
    `select group_number, ${named ? "unit, position, life" : "entity_name as unit, place_name as position, life"}, time_low
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
    unknown: new Uint8Array(0),
    assumedRunning: new Uint8Array(0),
    lastSeen: none,
    read: 0,
    entities: 0,
    entity: new Int32Array(0),
    place: new Int32Array(0),
    mode: new Int32Array(0),
    modes: [],
    running: [],
  };
}

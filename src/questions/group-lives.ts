import type { DuckDBConnection } from "@duckdb/node-api";
import type { IntervalLives, Lives } from "../stats/lives.ts";
import { columns } from "../store/columns.ts";
import type { Basis, By } from "./answer.ts";
import { addToBasis, emptyBasis } from "./basis.ts";
import { makeGrouped } from "./grouped-table.ts";
import { ENDS, type LifeColumns, type LifeReading, livesApart, livesTallied } from "./life-columns.ts";
import type { Scope } from "./scope.ts";

/** The usable lives of one group, in a fixed order, and what could not be used. */
export type GroupOfLives = {
  by: By;
  basis: Basis;
  /** Age at the end of each life; where it failed within an interval, from when on. */
  low: Float64Array;
  /** 1: failed at `low`. */
  failed: Uint8Array;
  /** Where some life failed within an interval, until when: `low` where it failed then, Infinity where it did not fail. */
  within?: Float64Array;
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
  /** Number of the unit that the life belongs to. Of no length where counts of lives alike were read. */
  entity: Int32Array;
  /** Number of the position that the unit ran at; -1 where it is not known. Of no length where lives need not be told apart. */
  place: Int32Array;
  /** How many different units there are; where lives are not told apart, at most so many if they are fewer than lives. */
  entities: number;
  /** Place of the damage mode among `modes`; -1 where it is not known, or nothing failed. Of no length where modes are not asked of. */
  mode: Int32Array;
  modes: string[];
  /** Lives still running: what "framelife trace" takes, unit and its position now, null where there are none; the oldest first. */
  running: { id: string | null; unit: string | null; position: string | null; age: number }[];
};

/** The lives of a group as statistics take them. */
export function intervalsOf({ low, failed, within, entry, count }: GroupOfLives): IntervalLives {
  const high = within ?? endsKnown(low, failed);
  return { low, high, ...(entry !== undefined && { entry }), ...(count !== undefined && { count }) };
}

/** The same lives with a flag each, which are the quicker to fit; null where they are of another kind than that. */
export function flaggedOf({ low, failed, within, entry, count }: GroupOfLives): Lives | null {
  return within === undefined && entry === undefined && count === undefined ? { time: low, failed } : null;
}

function endsKnown(low: Float64Array, failed: Uint8Array): Float64Array {
  const high = new Float64Array(low.length).fill(Number.POSITIVE_INFINITY);
  for (let life = 0; life < low.length; life++) if (failed[life] === 1) high[life] = low[life]!;
  return high;
}

/** Columns of `studied` that are the life itself, not a way to tell lives apart. */
export const NOT_FOR_GROUPS: ReadonlySet<string> = new Set(
  "life_id start_on stop_on entry_days days entry_hours hours last_seen_days last_seen_hours low_days low_hours left_out_days left_out_hours left_out time_low time_high within entry weight last_seen entity entity_name place place_name mode life start_file start_row stop_file stop_row".split(
    " ",
  ),
);

/** Columns of `studied` that groups of lives are made of. */
const USED =
  "left_out status weight time_low time_high within entry assumed_running last_seen entity entity_name place place_name mode life life_id fleet unit position speed".split(
    " ",
  );

const MOST = 2 ** 31 - 1;

const COUNTED = {
  by: "left_out as reason, status",
  sums: `min(entity)::integer as first_entity, max(entity)::integer as last_entity, sum(weight)::integer as lives, count(*)::integer as rows, coalesce(max(life_id), 0)::integer as last,
         coalesce(bool_or(entry > 0), false) as entry, coalesce(bool_or(weight <> 1), false) as weight, coalesce(bool_or(assumed_running), false) as assumed,
         coalesce(bool_or(within), false) as within`,
};

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
  const names = await makeGrouped(connection, {
    table: "studied",
    scope,
    by,
    hidden: NOT_FOR_GROUPS,
    used: USED,
    counted: COUNTED,
  });
  const groups = names.map(emptyGroup);
  const { sizes, ...said } = await addCounts(connection, groups);
  const lives = sizes.reduce((sum, size) => sum + size, 0);
  const tallied = !apart && !modes && lives > TALLIED_FROM * groups.length;
  const read = tallied
    ? livesTallied(connection, sizes, said)
    : livesApart(connection, sizes, { ...said, modes, places: apart });
  addColumns(groups, await read);
  return groups;
}

/** Counts what each group has; how many rows of lives it can use, and which of the columns that few lives need any does. */
async function addCounts(
  connection: DuckDBConnection,
  groups: GroupOfLives[],
): Promise<Omit<LifeReading, "modes" | "places"> & { sizes: Int32Array }> {
  const counts = await columns(connection, "from counted_by_group order by group_number, reason, status", {
    group_number: "integer",
    reason: "text",
    status: "text",
    lives: "integer",
    rows: "integer",
    entry: "boolean",
    weight: "boolean",
    assumed: "boolean",
    within: "boolean",
    last: "integer",
    first_entity: "integer",
    last_entity: "integer",
  });
  const sizes = new Int32Array(groups.length);
  const first = new Int32Array(groups.length).fill(MOST);
  const last = new Int32Array(groups.length);
  counts.group_number.forEach((number, row) => {
    addToBasis(groups[number]!.basis, counts.reason[row]!, counts.status[row]!, counts.lives[row]!);
    if (counts.reason[row] !== "") return;
    sizes[number]! += counts.rows[row]!;
    first[number] = Math.min(first[number]!, counts.first_entity[row]!);
    last[number] = Math.max(last[number]!, counts.last_entity[row]!);
  });
  return {
    sizes,
    span: last.map((number, group) => number - first[group]! + 1),
    entry: counts.entry.includes(1),
    weight: counts.weight.includes(1),
    assumed: counts.assumed.includes(1),
    within: counts.within.includes(1),
    last: counts.last.reduce((most, number) => Math.max(most, number), 0),
  };
}

/** Gives each group its stretch of the columns. */
function addColumns(groups: GroupOfLives[], lives: LifeColumns): void {
  const { low, high, end, entry, weight, lastSeen, mode, modes, entity, place } = lives;
  const { failed, unknown, assumed } = flagsOf(end);
  groups.forEach((group, number) => {
    const [first, last] = [lives.from[number]!, lives.from[number + 1]!];
    Object.assign(group, {
      low: low.subarray(first, last),
      failed: failed.subarray(first, last),
      ...(high && { within: high.subarray(first, last) }),
      unknown: unknown.subarray(first, last),
      assumedRunning: assumed.subarray(first, last),
      ...(entry && { entry: entry.subarray(first, last) }),
      ...(weight && { count: weight.subarray(first, last) }),
      ...(lastSeen && { lastSeen: lastSeen.subarray(first, last) }),
      ...(mode && { mode: mode.subarray(first, last), modes }),
      ...(entity && { entity: entity.subarray(first, last) }),
      ...(place && { place: place.subarray(first, last) }),
      read: lives.read[number]!,
      entities: lives.entities[number]!,
    });
  });
}

/** How each life ended as a column of flags for each way. */
function flagsOf(end: Uint8Array): Record<"failed" | "unknown" | "assumed", Uint8Array> {
  // Of memory that other threads see too, as the columns are.
  const [failed, unknown, assumed] = [0, 0, 0].map(() => new Uint8Array(new SharedArrayBuffer(end.length))) as [
    Uint8Array,
    Uint8Array,
    Uint8Array,
  ];
  for (let life = 0; life < end.length; life++) {
    const how = end[life];
    if (how === ENDS.failed) failed[life] = 1;
    else if (how === ENDS.unknown) unknown[life] = 1;
    else if (how === ENDS.assumed) assumed[life] = 1;
  }
  return { failed, unknown, assumed };
}

/** Lives still running. A life may have begun elsewhere: its unit is where it was installed last. */
const RUNNING = {
  workspace: `with latest as (
      select fleet, unit, max({build_number: build_number, position: position}).position as position from installation group by fleet, unit
    )
    select group_number, unit, case when latest.unit is null then grouped.position else latest.position end as position, life, time_low
    from grouped left join latest using (fleet, unit)`,
  table: "select group_number, entity_name as unit, place_name as position, life, time_low from grouped",
};

/** Gives groups their lives still running; of a workspace the connection holds `installation`. */
export async function addRunning(
  connection: DuckDBConnection,
  groups: GroupOfLives[],
  kind: keyof typeof RUNNING,
): Promise<void> {
  const running = await columns(
    connection,
    `${RUNNING[kind]} where left_out is null and status = 'running' order by group_number, time_low desc, unit, position`,
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
    failed: new Uint8Array(0),
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

import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Basis, By } from "./answer.ts";
import { emptyBasis } from "./basis.ts";
import { addCountedEnds, endsCounted } from "./counted-ends.ts";
import { makeGrouped, runs } from "./grouped-table.ts";
import type { Scope } from "./scope.ts";

/** How a stretch between two rebuilds ended. */
export const ENDS = ["end", "failure", "planned", "unknown"] as const;

/** The stretches of service between rebuilds of one group, by unit (or position) and in the order of time. */
export type GroupOfHistories = {
  by: By;
  basis: Basis;
  /** Different units, whatever the histories are of. */
  units: number;
  /** Number of the unit, or of the position where the group is one of positions, from 0. */
  entity: Int32Array;
  /** Service time that the entity had before it came under observation; the same on all its rows. */
  entered: Float64Array;
  start: Float64Array;
  stop: Float64Array;
  /** Index into `ENDS`. */
  ends: Uint8Array;
  /** Of a stretch that is only assumed to run on, its length up to the last evidence of any kind; NaN for all others. */
  seenStop: Float64Array;
  /** 1: begins at a rebuild or new, so that its length is a time between rebuilds. */
  whole: Uint8Array;
  /** Age of the unit at which it came under observation, the same on all its rows; NaN where that, or a stretch since, is not known. */
  ageEntered: Float64Array;
  /** 1: of a unit whose whole history since it was new is on record. */
  fromNew: Uint8Array;
};

/** Columns of `observed` that are the stretch itself, not a way to tell stretches apart. */
const NOT_FOR_GROUPS = new Set(
  "life_id build_id start_on stop_on entry_days entry_hours start_days stop_days start_hours stop_hours last_seen_days last_seen_hours low_days low_hours left_out_days left_out_hours left_out start stop ends entered age_entered from_new whole entity place seen_stop history ordinal status ended_by days hours assumed_running hours_estimated start_file start_row stop_file stop_row".split(
    " ",
  ),
);

/** Columns of `observed` that groups of histories are made of. */
const USED = [
  "left_out",
  "ends",
  "entity",
  "entered",
  "start",
  "stop",
  "seen_stop",
  "whole",
  "ordinal",
  "age_entered",
  "from_new",
];

/** Reads the histories of `observed` that are in scope, by group, the groups in the order of their names. */
export async function groupHistories(
  connection: DuckDBConnection,
  scope: Scope,
  by: string[],
): Promise<GroupOfHistories[]> {
  const ofPositions = by.includes("position") && !by.includes("unit");
  const also = `${ofPositions ? "coalesce(place, entity)" : "entity"} as history`;
  const names = await makeGrouped(connection, {
    table: "observed",
    scope,
    by,
    hidden: NOT_FOR_GROUPS,
    used: USED,
    also,
    counted: endsCounted("left_out"),
  });
  const groups = names.map(emptyGroup);
  await addCountedEnds(connection, groups);
  await addRows(connection, groups, ofPositions);
  return groups;
}

async function addRows(connection: DuckDBConnection, groups: GroupOfHistories[], ofPositions: boolean): Promise<void> {
  const codes = ENDS.map((name, code) => `when '${name}' then ${code}`).join(" ");
  const stretches = await columns(
    connection,
    `select group_number, dense_rank() over (partition by group_number order by history)::integer - 1 as entity,
            dense_rank() over (order by entity)::integer as unit, entered, start, stop, seen_stop, case ends ${codes} end as ends, whole::integer as whole,
            case when not broken then ${ofPositions ? "null::double" : "age_entered"} end as age_entered, (from_new and not broken and not ${ofPositions})::integer as from_new
     from (select *, bool_or(left_out is not null or start is null or stop is null) over (partition by group_number, history) as broken from grouped) where left_out is null and start is not null and stop is not null
     order by group_number, history, ordinal, start, stop, ends`,
    {
      group_number: "integer",
      entity: "integer",
      unit: "integer",
      entered: "number",
      start: "number",
      stop: "number",
      seen_stop: "number",
      ends: "integer",
      whole: "integer",
      age_entered: "number",
      from_new: "integer",
    },
  );
  for (const [number, from, to] of runs(stretches.group_number)) {
    const entity = stretches.entity.slice(from, to);
    Object.assign(groups[number]!, {
      units: new Set(stretches.unit.subarray(from, to)).size,
      entity,
      entered: stretches.entered.slice(from, to),
      start: stretches.start.slice(from, to),
      stop: stretches.stop.slice(from, to),
      seenStop: stretches.seen_stop.slice(from, to),
      ends: Uint8Array.from(stretches.ends.subarray(from, to)),
      whole: Uint8Array.from(stretches.whole.subarray(from, to)),
      ageEntered: stretches.age_entered.slice(from, to),
      fromNew: Uint8Array.from(stretches.from_new.subarray(from, to)),
    });
  }
}

function emptyGroup(by: By): GroupOfHistories {
  const none = new Float64Array(0);
  return {
    by,
    basis: emptyBasis(),
    units: 0,
    entity: new Int32Array(0),
    entered: none,
    start: none,
    stop: none,
    seenStop: none,
    ends: new Uint8Array(0),
    whole: new Uint8Array(0),
    ageEntered: none,
    fromNew: new Uint8Array(0),
  };
}

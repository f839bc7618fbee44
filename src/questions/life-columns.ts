import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { groupedColumns } from "../store/grouped-columns.ts";
import { distinctCounter, orderInGroups } from "./rows-by-group.ts";

/** Which of the columns that few lives need any life needs, and how lives are wanted. */
export type LifeReading = {
  /** Some life enters late; stands for several; is assumed to run. */
  entry: boolean;
  weight: boolean;
  assumed: boolean;
  /** Some life is known to have failed within an interval only. */
  within: boolean;
  /** Damage modes are asked of; positions are. */
  modes: boolean;
  places: boolean;
  /** The greatest number of a life. */
  last: number;
  /** Of each group how many numbers there are from its first unit's to its last one's. */
  span: Int32Array;
};

/** Lives read at once: while they are put by group the engine is at the next, and nothing else is held twice. */
const AT_ONCE = 500_000;

/** Lives in columns, those of a group together. */
export type LifeColumns = {
  /** Where each group begins in the columns, and the end of the last. */
  from: Int32Array;
  low: Float64Array;
  /** Read where some life failed within an interval. */
  high?: Float64Array;
  /** How it ended: one of `ENDS`. */
  end: Uint8Array;
  entry?: Float64Array;
  weight?: Float64Array;
  lastSeen?: Float64Array;
  mode?: Int32Array;
  modes: string[];
  entity?: Int32Array;
  place?: Int32Array;
  /** Of each group: lives that were read, and different units among them; of tallied lives at most so many, where they are fewer than lives. */
  read: Int32Array;
  entities: Int32Array;
};

/** A life failed, was replaced without evidence, is assumed to run; or is followed to its end without failing. */
export const ENDS = { otherwise: 0, failed: 1, unknown: 2, assumed: 3 } as const;

const END = `case when status = 'failed' then ${ENDS.failed} when status = 'unknown' then ${ENDS.unknown} when assumed_running then ${ENDS.assumed} else ${ENDS.otherwise} end::utinyint`;

/** What of a life counts, in the order in which it is read; no NULL in any. */
function selected({ entry, assumed, within }: LifeReading): string {
  const high = within ? ", time_high" : "";
  const late = entry ? ", entry" : "";
  const seen = assumed ? ", coalesce(last_seen, 'nan'::double) as last_seen" : "";
  return `group_number, time_low, ${END} as ended${high}${late}${seen}`;
}

/**
 * Reads the usable lives of `grouped`, each for itself, by unit and time in each group.
 * @param sizes - how many there are in each group
 */
export async function livesApart(
  connection: DuckDBConnection,
  sizes: Int32Array,
  reading: LifeReading,
): Promise<LifeColumns> {
  const { entry, weight, assumed, within, modes, places, last } = reading;
  const lives = `select ${selected(reading)}${weight ? ", weight::double as weight" : ""}, life_id, entity${places ? ", coalesce(place, -1) as place" : ""}${
    modes ? ", mode" : ""
  } from grouped where left_out is null`;
  const pieces = Math.ceil(sizes.reduce((sum, size) => sum + size, 0) / AT_ONCE);
  const edge = (piece: number) => Math.floor((piece * (last + 1)) / pieces);
  const queries =
    pieces <= 1
      ? [lives]
      : Array.from(
          { length: pieces },
          (_, piece) => `${lives} and life_id >= ${edge(piece)} and life_id < ${edge(piece + 1)}`,
        );
  const {
    columns: found,
    words,
    from,
  } = await groupedColumns(connection, queries, sizes, {
    low: "number",
    end: "small",
    ...(within && { high: "number" as const }),
    ...(entry && { entry: "number" as const }),
    ...(assumed && { lastSeen: "number" as const }),
    ...(weight && { weight: "number" as const }),
    number: "integer",
    entity: "integer",
    ...(places && { place: "integer" as const }),
    ...(modes && { mode: "word" as const }),
  });
  const { number, ...own } = found;
  orderInGroups(from, number, Object.values(own));
  const distinct = distinctCounter(own.entity);
  const entities = sizes.map((_, group) => distinct(from[group]!, from[group + 1]!));
  return { ...own, modes: words, from, read: sizes, entities };
}

/** The same lives as counts of those that are alike: neither units nor modes are told apart. */
export async function livesTallied(
  connection: DuckDBConnection,
  sizes: Int32Array,
  reading: Omit<LifeReading, "modes" | "places">,
): Promise<LifeColumns> {
  const { entry, assumed, within } = reading;
  const found = await columns(
    connection,
    `select * from (select ${selected({ ...reading, modes: false, places: false })}, sum(weight)::double as weight
       from grouped where left_out is null group by all) order by all`,
    {
      group_number: "integer",
      time_low: "number",
      ended: "integer",
      weight: "number",
      ...(within && { time_high: "number" as const }),
      ...(entry && { entry: "number" as const }),
      ...(assumed && { last_seen: "number" as const }),
    },
  );
  const from = new Int32Array(sizes.length + 1);
  for (const group of found.group_number) from[group + 1]!++;
  for (let group = 0; group < sizes.length; group++) from[group + 1]! += from[group]!;
  return {
    from,
    low: found.time_low,
    end: Uint8Array.from(found.ended),
    weight: found.weight,
    ...(found.time_high && { high: found.time_high }),
    ...(found.entry && { entry: found.entry }),
    ...(found.last_seen && { lastSeen: found.last_seen }),
    modes: [],
    read: sizes,
    // Fewer numbers than lives: some unit has several, and how many there are is not asked.
    entities: sizes.some((size, group) => size <= reading.span[group]!)
      ? await unitsOf(connection, sizes.length)
      : reading.span,
  };
}

async function unitsOf(connection: DuckDBConnection, groups: number): Promise<Int32Array> {
  const found = await columns(
    connection,
    "select group_number, count(distinct entity)::integer as units from grouped where left_out is null group by group_number",
    { group_number: "integer", units: "integer" },
  );
  const units = new Int32Array(groups);
  found.group_number.forEach((group, row) => {
    units[group] = found.units[row]!;
  });
  return units;
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import type { IntervalLives } from "../stats/lives.ts";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import type { Basis } from "./answer.ts";
import { addToBasis, emptyBasis } from "./basis.ts";
import { checkedColumns } from "./conditions.ts";
import { NOT_FOR_GROUPS } from "./group-lives.ts";
import { makeGrouped } from "./grouped-table.ts";
import type { Scope } from "./scope.ts";

/** What is known of each life when it starts: a measured value, NaN where it is not recorded; or one of some words, -1 where not. */
export type Known =
  | { name: string; kind: "measured"; values: Float64Array }
  | { name: string; kind: "levels"; codes: Int32Array; words: string[] };

/** The lives of a comparison, by number. */
export type ComparedLives = {
  basis: Basis;
  lives: IntervalLives;
  /** 1: replaced without evidence of failing or not. */
  unknown: Uint8Array;
  /** Numbers of the unit and of its position, -1 where that is not known: no unit is where rows stand for several lives of different ones. */
  unit: Int32Array;
  place: Int32Array;
  effect: Known;
  others: Known[];
  /** Days from the first on which a life was at risk, its entry where it began before its records do, to the last end on record; null where days are not known. */
  watchedDays: number | null;
};

const USED = "left_out status time_low time_high within entry weight entity place life_id start_on stop_on entry_days";

/** Columns that may be compared by: those known when a life starts, but the ones that say which life it is. */
const HIDDEN = new Set([...NOT_FOR_GROUPS, "unit", "position", "card", "end_play_band"]);

/**
 * Reads the usable lives of `studied` in scope with the columns that a comparison asks for.
 * @param effect - what is to be compared
 * @param wanted - columns to hold alike; where not given, those of `usual` that the table has; `strata` beside them
 * @throws UserError for a column that there isn't, or that is known only when a life has ended
 */
export async function comparedLives(
  connection: DuckDBConnection,
  scope: Scope,
  { effect, wanted, usual, strata }: { effect: string; wanted: string[] | null; usual: string[]; strata: string[] },
): Promise<ComparedLives> {
  const types = await columnTypes(connection);
  const alike = (wanted ?? usual.filter((name) => types.has(name) && !strata.includes(name))).filter(
    (name) => name !== effect,
  );
  const others = [...alike, ...strata];
  const twice = others.find((name, at) => others.indexOf(name) !== at);
  if (twice !== undefined) throw new UserError(`Cannot adjust for "${twice}" twice; name it once`, 2);
  await checkedColumns(connection, "studied", [effect, ...others], HIDDEN, "compare by");
  const names = await makeGrouped(connection, {
    table: "studied",
    scope: { ...scope, by: [] },
    by: [],
    hidden: NOT_FOR_GROUPS,
    used: [...USED.split(" "), effect, ...others],
    counted: { by: "left_out as reason, status", sums: "sum(weight)::integer as lives" },
  });
  const basis = emptyBasis();
  if (names.length > 0) await addBasis(connection, basis);
  return { basis, ...(await read(connection, types, effect, others)) };
}

async function addBasis(connection: DuckDBConnection, basis: Basis): Promise<void> {
  const counts = await columns(connection, "from counted_by_group order by reason, status", {
    reason: "text",
    status: "text",
    lives: "integer",
  });
  counts.status.forEach((status, row) => {
    addToBasis(basis, counts.reason[row]!, status, counts.lives[row]!);
  });
}

/** Of each column whether it holds numbers: as such, or as text of a plain table that is all numbers. */
async function columnTypes(connection: DuckDBConnection): Promise<Map<string, boolean>> {
  const { name, type } = await columns(
    connection,
    "select column_name as name, column_type as type from (describe studied)",
    { name: "text", type: "text" },
  );
  return new Map(name.map((one, at) => [one, NUMBERS.test(type[at]!)]));
}

const NUMBERS = /^(DOUBLE|FLOAT|DECIMAL|[US]?(TINY|SMALL|BIG|HUGE)?INT(EGER)?)/;

async function read(
  connection: DuckDBConnection,
  types: ReadonlyMap<string, boolean>,
  effect: string,
  others: string[],
): Promise<Omit<ComparedLives, "basis">> {
  const names = [effect, ...others];
  const numbers = await allNumbers(
    connection,
    names.filter((name) => types.get(name) !== true),
  );
  const measured = names.map((name) => types.get(name) === true || numbers.has(name));
  const dated = ["start_on", "entry_days", "stop_on"].every((name) => types.has(name));
  const asked = names.map((name, at) => {
    const column = quoteIdentifier(name);
    return `${measured[at] ? `try_cast(${column} as double)` : `nullif(trim(${column}::varchar), '')`} as known_${at}`;
  });
  const found = await columns(
    connection,
    `select time_low, case when status = 'failed' and not within then time_low else time_high end as time_high, entry, weight::double as weight,
            (status = 'unknown')::utinyint as unknown, entity, coalesce(place, -1) as place, ${dated ? DAYS : "0::double as entry_day, 0::double as stop_day"},
            ${asked.join(", ")}
     from grouped where left_out is null order by life_id`,
    {
      time_low: "number",
      time_high: "number",
      entry: "number",
      weight: "number",
      unknown: "integer",
      entity: "integer",
      place: "integer",
      entry_day: "number",
      stop_day: "number",
      ...Object.fromEntries(
        names.map((_, at) => [`known_${at}`, measured[at] ? ("number" as const) : ("category" as const)]),
      ),
    },
  );
  const known = names.map((name, at): Known => {
    const column = (found as Record<string, unknown>)[`known_${at}`];
    return measured[at]
      ? { name, kind: "measured", values: column as Float64Array }
      : { name, kind: "levels", ...(column as { codes: Int32Array; words: string[] }) };
  });
  const counted = found.weight.some((weight) => weight !== 1);
  const ofSeveral = counted && new Set(found.entity).size === found.entity.length;
  return {
    lives: {
      low: found.time_low,
      high: found.time_high,
      ...(found.entry.some((age) => age > 0) && { entry: found.entry }),
      ...(counted && { count: found.weight }),
    },
    unknown: Uint8Array.from(found.unknown),
    unit: ofSeveral ? found.entity.map(() => -1) : found.entity,
    place: found.place,
    effect: known[0]!,
    others: known.slice(1),
    watchedDays: watchedDays(found.entry_day, found.stop_day),
  };
}

/** From when to when lives are watched: no failure before a life's entry could be on record. A plain table's own columns may hold what they like. */
const DAYS = `${since("start_on")} + coalesce(try_cast(entry_days as double), 0) as entry_day, ${since("stop_on")} as stop_day`;

function since(day: string): string {
  return `date_diff('day', date '1970-01-01', try_cast(${day} as date))::double`;
}

/** Columns of text that are a measured value, as in a plain table: all of it is numbers. */
async function allNumbers(connection: DuckDBConnection, names: string[]): Promise<Set<string>> {
  if (names.length === 0) return new Set();
  const counts = names.map((name, at) => {
    const text = `trim(${quoteIdentifier(name)}::varchar)`;
    return `count(nullif(${text}, ''))::integer as words_${at}, count(try_cast(${text} as double))::integer as numbers_${at}`;
  });
  const found = await columns(
    connection,
    `select ${counts.join(", ")} from grouped where left_out is null`,
    Object.fromEntries(
      names.flatMap((_, at) => [`words_${at}`, `numbers_${at}`].map((one) => [one, "integer" as const])),
    ),
  );
  return new Set(
    names.filter((_, at) => found[`words_${at}`]![0]! > 0 && found[`words_${at}`]![0] === found[`numbers_${at}`]![0]),
  );
}

/** From the first entry to the last end; days that are not known are NaN. */
function watchedDays(entry: Float64Array, stop: Float64Array): number | null {
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let life = 0; life < entry.length; life++) {
    if (entry[life]! < first) first = entry[life]!;
    if (stop[life]! > last) last = stop[life]!;
  }
  return last > first && last - first < Number.POSITIVE_INFINITY ? last - first : null;
}

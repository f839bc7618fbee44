import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import { quoteIdentifier, quoteText } from "../store/quote.ts";
import type { By } from "./answer.ts";
import { checkedColumns, checkedCondition } from "./conditions.ts";
import { NOT_RECORDED } from "./grouping.ts";
import type { Scope } from "./scope.ts";

/** What a question groups, and how. */
type Grouping = {
  table: "studied" | "observed" | "exposed";
  scope: Scope;
  by: string[];
  /** Columns that are the row itself, not a way to tell rows apart. */
  hidden: ReadonlySet<string>;
  /** Columns of the table that are used, of those that it has. */
  used: readonly string[];
  /** SQL of a further column. */
  also?: string;
  /** SQL of what is counted in each group, by what: columns of `counted_by_group`, beside the number of the group. Rows may be alike but for what they count. */
  counted: { by: string; sums: string };
};

/**
 * Makes the temporary view `grouped`: the rows of `table` in scope, each with the number of its group.
 * @returns the values of the `--by` columns of each group, in the order of the groups' numbers
 * @throws UserError if a column or the condition can't be used
 */
export async function makeGrouped(connection: DuckDBConnection, grouping: Grouping): Promise<By[]> {
  const { table, scope, by, hidden, also, counted } = grouping;
  const known = await checkedColumns(connection, table, by, hidden);
  const condition = await conditionOf(connection, scope, table);
  const names = by.map(quoteIdentifier);
  const keys = names.map((name, at) => `${shown(name)} as ${keyOf(at)}`);
  const used = known.filter((name) => grouping.used.includes(name)).map(quoteIdentifier);
  const rows = `select ${[...used, ...(also === undefined ? [] : [also]), ...keys].join(", ")} from ${table} where ${condition}`;
  await connection.run(`create or replace temp view in_scope as ${rows}`);
  try {
    // One pass over the rows, which also meets whatever is wrong with the condition. Values are made words when they are few.
    const values = names.map((name, at) => `${name} as ${keyOf(at)}`);
    const words = by.map((_, at) => `${shown(keyOf(at))} as ${keyOf(at)}`);
    await connection.run(
      `create or replace temp table counted as select *${words.length === 0 ? "" : ` replace (${words.join(", ")})`}
       from (select ${[...values, counted.by, counted.sums].join(", ")} from ${table} where ${condition} group by all)`,
    );
    return by.length === 0 ? await oneGroup(connection) : await numberedGroups(connection, by);
  } catch (error) {
    if (scope.where === undefined) throw error;
    const said = (error as Error).message.split("\n")[0];
    throw new UserError(`Cannot use --where ${JSON.stringify(scope.where)}: ${said}; correct the condition`, 2, {
      cause: error,
    });
  }
}

/** The rows in scope as a condition: a fixed fleet and slot, and the user's own condition, which is checked. */
async function conditionOf(connection: DuckDBConnection, scope: Scope, table: Grouping["table"]): Promise<string> {
  const parts = ["true"];
  for (const name of ["fleet", "slot"] as const) {
    const value = scope[name];
    if (value !== undefined) parts.push(`${name} = ${quoteText(value)}`);
  }
  if (scope.where !== undefined) parts.push(await checkedCondition(connection, table, scope.where));
  return parts.join(" and ");
}

/** A value of a `--by` column as the word that names its group. */
function shown(column: string): string {
  return `coalesce(${column}::varchar, ${quoteText(NOT_RECORDED)})`;
}

/** What a `--by` column is called beside the columns that are used. */
function keyOf(at: number): string {
  return `"by ${at}"`;
}

/** All rows as one group, if there are any. */
async function oneGroup(connection: DuckDBConnection): Promise<By[]> {
  await connection.run("create or replace temp view grouped as select 0 as group_number, * from in_scope");
  await connection.run("create or replace temp view counted_by_group as select 0 as group_number, * from counted");
  const { any } = await columns(connection, "select count(*)::integer as any from (from counted limit 1)", {
    any: "integer",
  });
  return any[0] === 0 ? [] : [{}];
}

/** Numbers the groups, which are few, and gives each row the number of its own. */
async function numberedGroups(connection: DuckDBConnection, by: string[]): Promise<By[]> {
  const keys = by.map((_, at) => keyOf(at)).join(", ");
  await connection.run(`create or replace temp table group_key as
    select (row_number() over (order by ${keys}))::integer - 1 as group_number, * from (select distinct ${keys} from counted)`);
  const list = by.map((_, at) => `${keyOf(at)} as key_${at}`).join(", ");
  const shape: Record<string, "text"> = Object.fromEntries(by.map((_, at) => [`key_${at}`, "text" as const]));
  const values = await columns(connection, `select ${list} from group_key order by group_number`, shape);
  const groups = values["key_0"] ?? [];
  const varying = by.map((_, at) => at).filter((at) => new Set(values[`key_${at}`]).size > 1);
  const { number, join } = await numbering(connection, varying, keys);
  for (const [view, table] of [
    ["grouped", "in_scope"],
    ["counted_by_group", "counted"],
  ] as const) {
    await connection.run(
      `create or replace temp view ${view} as select ${number} as group_number, ${table}.* exclude (${keys}) from ${table}${join}`,
    );
  }
  return groups.map((_, row) => Object.fromEntries(by.map((name, at) => [name, values[`key_${at}`]?.[row] ?? ""])));
}

/**
 * SQL of the number of a row's group. Where one column tells the groups apart, its words become an enumeration, whose codes are the
 * numbers: a join would look each up, and lose the order of the table, in which units come.
 */
async function numbering(
  connection: DuckDBConnection,
  [first, ...others]: number[],
  keys: string,
): Promise<{ number: string; join: string }> {
  if (first === undefined) return { number: "0", join: "" };
  if (others.length > 0) return { number: "group_number", join: ` left join group_key using (${keys})` };
  // views of the question before hold its enumeration
  for (const view of ["grouped", "counted_by_group"]) await connection.run(`drop view if exists ${view}`);
  await connection.run("drop type if exists group_name");
  await connection.run(
    `create temp type group_name as enum (select ${keyOf(first)} from group_key order by group_number)`,
  );
  return { number: `enum_code(${keyOf(first)}::group_name)::integer`, join: "" };
}

/** Runs of equal values: [value, from, to). */
export function* runs(values: Int32Array): Generator<[number, number, number]> {
  let from = 0;
  for (let to = 1; to <= values.length; to++) {
    if (to < values.length && values[to] === values[from]) continue;
    yield [values[from]!, from, to];
    from = to;
  }
}

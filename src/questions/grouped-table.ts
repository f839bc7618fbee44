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
  table: "studied" | "observed";
  scope: Scope;
  by: string[];
  /** Columns that are the row itself, not a way to tell rows apart. */
  hidden: ReadonlySet<string>;
  /** SQL of a further column. */
  also?: string;
};

/**
 * Makes the temporary table `grouped`: the rows of `table` in scope, each with the number of its group.
 * @returns the values of the `--by` columns of each group, in the order of the groups' numbers
 * @throws UserError if a column or the condition can't be used
 */
export async function makeGrouped(connection: DuckDBConnection, grouping: Grouping): Promise<By[]> {
  const { table, scope, by, hidden, also } = grouping;
  await checkedColumns(connection, table, by, hidden);
  const { condition, values } = await conditionOf(connection, scope, table);
  const names = by.map(quoteIdentifier);
  const keys = names.map((name) => `coalesce(${name}::varchar, ${quoteText(NOT_RECORDED)}) as ${name}`);
  const rows = `select *${keys.length > 0 ? ` replace (${keys.join(", ")})` : ""} from ${table} where ${condition}`;
  const groupNumber = names.length === 0 ? "1" : `dense_rank() over (order by ${names.join(", ")})`;
  try {
    await connection.run(
      `create or replace temp table grouped as
       select ${groupNumber}::integer - 1 as group_number, *${also === undefined ? "" : `, ${also}`} from (${rows})`,
      values,
    );
  } catch (error) {
    if (scope.where === undefined) throw error;
    const said = (error as Error).message.split("\n")[0];
    throw new UserError(`Cannot use --where ${JSON.stringify(scope.where)}: ${said}; correct the condition`, 2, {
      cause: error,
    });
  }
  return groupNames(connection, names, by);
}

/** The rows in scope as a condition: fixed fleet and slot are bound, the user's own condition is checked. */
async function conditionOf(
  connection: DuckDBConnection,
  scope: Scope,
  table: Grouping["table"],
): Promise<{ condition: string; values: Record<string, string> }> {
  const parts = ["true"];
  const values: Record<string, string> = {};
  for (const name of ["fleet", "slot"] as const) {
    const value = scope[name];
    if (value === undefined) continue;
    parts.push(`${name} = $${name}`);
    values[name] = value;
  }
  if (scope.where !== undefined) parts.push(await checkedCondition(connection, table, scope.where));
  return { condition: parts.join(" and "), values };
}

async function groupNames(connection: DuckDBConnection, names: string[], by: string[]): Promise<By[]> {
  const list = ["group_number", ...names.map((name) => `any_value(${name}) as ${name}`)].join(", ");
  const shape: Record<string, "text"> = Object.fromEntries(by.map((name) => [name, "text" as const]));
  const sql = `select ${list} from grouped group by group_number order by group_number`;
  const { group_number } = await columns(connection, sql, { group_number: "integer" });
  const values = await columns(connection, sql, shape);
  return Array.from(group_number, (_, row) => Object.fromEntries(by.map((name) => [name, values[name]?.[row] ?? ""])));
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

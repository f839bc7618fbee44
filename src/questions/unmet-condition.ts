import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import { allOf, inFull, inWords } from "./wording.ts";

/** Over so many different values only the first are named. */
const MOST_NAMED = 12;

/**
 * What the columns of a `--where` condition hold, said of one that no row of `table` in question meets.
 * @param condition - one that was checked
 */
export async function unmetWarnings(
  connection: DuckDBConnection,
  table: string,
  condition: string | undefined,
): Promise<string[]> {
  if (condition === undefined) return [];
  const described = await columns(
    connection,
    `select column_name as name, column_type as type from (describe ${quoteIdentifier(table)})`,
    { name: "text", type: "text" },
  );
  const named = namesIn(condition);
  const said: string[] = [];
  for (const [at, name] of described.name.entries()) {
    if (named.has(name.toLowerCase())) said.push(await heldBy(connection, table, name, described.type[at]!));
  }
  return said.length === 0
    ? []
    : [
        `nothing in question meets --where ${JSON.stringify(condition)}; on record, whatever the fleet and slot: ${said.join("; ")}`,
      ];
}

/** Whatever in a condition may be the name of a column, in small letters. */
function namesIn(condition: string): Set<string> {
  const withoutTexts = condition.replace(/'(?:[^']|'')*'/g, "");
  const names = withoutTexts.match(/"[^"]+"|[\p{L}_][\p{L}\p{N}_]*/gu) ?? [];
  return new Set(names.map((name) => name.replaceAll('"', "").toLowerCase()));
}

async function heldBy(connection: DuckDBConnection, table: string, name: string, type: string): Promise<string> {
  const [column, rows] = [quoteIdentifier(name), quoteIdentifier(table)];
  if (/^(DOUBLE|FLOAT|DECIMAL|U?(TINY|SMALL|BIG|HUGE)?INT)/.test(type)) {
    const { low, high } = await columns(
      connection,
      `select min(${column})::double as low, max(${column})::double as high from ${rows}`,
      { low: "number", high: "number" },
    );
    return Number.isNaN(low[0]!) ? nowhere(name) : `${name} runs from ${inWords(low[0]!)} to ${inWords(high[0]!)}`;
  }
  const { value } = await columns(
    connection,
    `select distinct ${column}::varchar as value from ${rows} where ${column} is not null order by value`,
    { value: "text" },
  );
  if (value.length === 0) return nowhere(name);
  if (type === "DATE") return `${name} runs from ${value[0]} to ${value.at(-1)}`;
  if (value.length <= MOST_NAMED) return `${name} holds ${allOf(value)}`;
  const others = value.length - 3;
  return `${name} holds ${value.slice(0, 3).join(", ")} and ${inFull(others)} more`;
}

function nowhere(name: string): string {
  return `${name} is nowhere on record`;
}

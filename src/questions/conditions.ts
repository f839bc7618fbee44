import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";

/**
 * Checks that a `--where` condition is one SQL expression over columns of `table` and gives it back in brackets.
 * The parser decides, so that no text can close the bracket and go on with a statement of its own.
 */
export async function checkedCondition(
  connection: DuckDBConnection,
  table: string,
  condition: string,
): Promise<string> {
  // In brackets and bare: "1 = 0) or (fleet = 'x'" is one expression in brackets, and none without.
  for (const wrapped of [`(${condition}\n)`, condition]) await parsedAlone(connection, wrapped, condition);
  try {
    await connection.run(`select 1 from ${quoteIdentifier(table)} where (${condition}\n) limit 0`);
  } catch (error) {
    const said = await whyNot(connection, table, error as Error);
    throw new UserError(`Cannot use --where ${JSON.stringify(condition)}: ${said}`, 2, { cause: error });
  }
  return `(${condition}\n)`;
}

async function whyNot(connection: DuckDBConnection, table: string, { message }: Error): Promise<string> {
  const wanted = /^Binder Error: Referenced column "(.+)" not found/.exec(message)?.[1];
  if (wanted === undefined) return message.split("\n")[0]!;
  const { name, far } = await columns(
    connection,
    `select column_name as name, levenshtein(lower(column_name), lower($wanted))::integer as far from (describe ${quoteIdentifier(table)})`,
    { name: "text", far: "integer" },
    { wanted },
  );
  const [nearest] = name.filter((one, at) => far[at] === Math.min(...far) && 2 * far[at]! <= one.length);
  const near = nearest === undefined ? "" : `, the nearest is "${nearest}"`;
  return `there is no column "${wanted}"${near}; the columns are ${name.join(", ")}; text stands in single quotes`;
}

async function parsedAlone(connection: DuckDBConnection, wrapped: string, condition: string): Promise<void> {
  const parsed = await connection.runAndReadAll("select json_serialize_sql('select ' || $wrapped)", { wrapped });
  const tree = JSON.parse(String(parsed.getRows()[0]?.[0])) as Parsed;
  const node = tree.statements?.[0]?.node;
  const alone =
    tree.statements?.length === 1 &&
    node?.select_list?.length === 1 &&
    node.from_table?.type === "EMPTY" &&
    (node.where_clause ?? null) === null;
  if (!tree.error && alone) return;
  throw new UserError(
    `Cannot use --where ${JSON.stringify(condition)}: ${tree.error_message ?? "it is not one condition"}; write one condition, for example "end_play < 4"`,
    2,
  );
}

type Parsed = {
  error: boolean;
  error_message?: string;
  statements?: { node?: { select_list?: unknown[]; from_table?: { type?: string }; where_clause?: unknown } }[];
};

/** What is known of a life only from how it went: never a way to tell lives apart (an outcome is no predictor). */
const OUTCOMES = ["status", "ended_by", "ends", "damage_mode", "assumed_running", "hours_estimated"];
const LENGTHS = ["hours", "days", "time_low", "time_high", "stop", "stop_on", "last_seen", "low_hours", "low_days"];

/** What to be careful of where a condition picks lives by how they went. */
export function outcomeWarnings(condition: string | undefined): string[] {
  const named = [...OUTCOMES, ...LENGTHS].filter((name) => new RegExp(`\\b${name}\\b`, "i").test(condition ?? ""));
  if (named.length === 0) return [];
  return [
    `--where picks by ${named.join(", ")}, known only from how a life went: the figures are not those of all lives`,
  ];
}

/**
 * Checks the columns that lives are told apart by against those of `table`, less the `hidden` ones; gives the columns of the table.
 * @param doing - what is done with them, for the message
 */
export async function checkedColumns(
  connection: DuckDBConnection,
  table: string,
  wanted: string[],
  hidden: ReadonlySet<string>,
  doing: "group by" | "compare by" = "group by",
): Promise<string[]> {
  const described = await connection.runAndReadAll(`describe ${quoteIdentifier(table)}`);
  const known = described.getRows().map((row) => String(row[0]));
  const open = known.filter((name) => !hidden.has(name) && name !== "fitter" && !OUTCOMES.includes(name));
  const outcome = wanted.find(
    (name) => (OUTCOMES.includes(name) && known.includes(name)) || (LENGTHS.includes(name) && !open.includes(name)),
  );
  if (outcome !== undefined) {
    throw new UserError(
      `Cannot ${doing} "${outcome}": it is known only when a life has ended, so that each group would be picked by its own answer; ${doing} what was known at its start`,
      2,
    );
  }
  if (wanted.includes("fitter")) {
    throw new UserError(
      `Cannot ${doing} "fitter": answers do not set people against each other; --where "fitter = 'CODE'" shows one fitter's own builds`,
      2,
    );
  }
  const unknown = wanted.find((name) => !open.includes(name));
  if (unknown !== undefined) {
    const others =
      open.length === 0 ? "the table has none to tell lives apart by" : `the columns are ${open.join(", ")}`;
    throw new UserError(`Cannot ${doing} "${unknown}": there is no such column; ${others}`, 2);
  }
  return known;
}

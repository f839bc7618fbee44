import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Severities } from "../workspace/rules.ts";
import type { Alias } from "./aliases/alias.ts";

/** Raised when a check finds or says other things than before of the same records, so that stores are looked over anew. */
const CHECKS_VERSION = 4;

/** A check of all records: its steps, the last of which fills the temp table `found`; `byUnits` run first, for some units after others. */
type Check = { byUnits?: readonly string[]; steps: readonly string[] };

/** In this order: what one check sets aside the next does not see. Meters are judged by the step that the lives use. */
const CHECKS: readonly Check[] = [
  { steps: ["29_same_day"] },
  { byUnits: ["29_busy"], steps: ["29_cards"] },
  { steps: ["29_twice"] },
  { steps: ["29_service"] },
  { byUnits: ["29_evidence", "35_judged", "29_meter"], steps: [] },
  { steps: ["29_fittings"] },
  { steps: ["29_vanished"] },
  { steps: ["29_stock"] },
  { steps: ["29_near_miss"] },
];

/** Cards and readings whose units are looked over at once: the engine then sorts what fits into its memory, whatever the store holds. */
const AT_ONCE = 500_000;

/** The checks that look over all records, made anew where records or rules have changed since they were made; in one transaction. */
export async function checkRecords(
  connection: DuckDBConnection,
  configuration: Pick<Configuration, "rollover_at">,
  severities: Severities,
  aliases: Alias[] = [],
): Promise<void> {
  const { rollover_at } = configuration;
  const refused = JSON.stringify(
    aliases.flatMap(({ fleet, unit, is, accept }) => (accept === "no" ? [{ fleet, unit, meant: is }] : [])),
  );
  const by = JSON.stringify([CHECKS_VERSION, severities, rollover_at, refused]);
  const { last } = await columns(connection, "select made_with as last from landing.checked", { last: "text" });
  if (last[0] === by) return;
  const values = { rollover_at, refused, severities: JSON.stringify(severities) };
  await connection.run("begin");
  try {
    await runStep(connection, "28_unchecked");
    await runStep(connection, "29_checked");
    const ranges = await unitRanges(connection);
    for (const check of CHECKS) await findAndBar(connection, check, ranges, values);
    await connection.run("update landing.checked set made_with = $by", { by });
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

type UnitRange = { first: number; last: number };

/** Parts of `checked_unit` of about as many records each; one, of no units, where there are none. */
async function unitRanges(connection: DuckDBConnection): Promise<UnitRange[]> {
  const { units, records } = await columns(
    connection,
    `select (select count(*) from checked_unit)::integer as units,
            ((select count(*) from dated_card) + (select count(*) from dated_reading))::integer as records`,
    { units: "integer", records: "integer" },
  );
  const size = Math.max(1, Math.ceil((AT_ONCE * units[0]!) / Math.max(1, records[0]!)));
  const parts = Math.max(1, Math.ceil(units[0]! / size));
  return Array.from({ length: parts }, (_, part) => ({ first: part * size + 1, last: (part + 1) * size }));
}

async function findAndBar(
  connection: DuckDBConnection,
  { byUnits = [], steps }: Check,
  ranges: UnitRange[],
  values: Record<string, DuckDBValue>,
): Promise<void> {
  await connection.run(
    "create or replace temp table found (record varchar, file_id integer, row integer, field varchar, value varchar, rule varchar, message varchar)",
  );
  for (const range of ranges) for (const step of byUnits) await runStep(connection, step, { ...values, ...range });
  for (const step of steps) await runStep(connection, step, values);
  if ((await count(connection, "found")) === 0) return;
  await runStep(connection, "29_found", values);
  if ((await count(connection, "barring")) > 0) await runStep(connection, "29_barred");
}

async function count(connection: DuckDBConnection, table: "found" | "barring"): Promise<number> {
  const { rows } = await columns(connection, `select count(*)::integer as rows from ${table}`, { rows: "integer" });
  return rows[0] ?? 0;
}

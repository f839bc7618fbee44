import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import { WHOLE_FRAME } from "../workspace/stock-policy.ts";
import type { KitPart, Kits } from "./spares-kits.ts";

/** Pieces of each part that cards put in, month by month: `pieces[part][month]`. */
export type PastCounts = { months: number; pieces: Int32Array[] };

export type PastAsked = {
  fleet?: string;
  slots: string[];
  kits: Kits;
  /** First day, and the day after the last, YYYY-MM-DD: whole months. */
  from: string;
  to: string;
};

/** What was used in a stretch of whole months. */
export async function pastCounts(connection: DuckDBConnection, asked: PastAsked): Promise<PastCounts> {
  const { fleet, slots, kits, from, to } = asked;
  await runStep(connection, "61_used", { fleet: fleet ?? null, from_on: from, to_on: to });
  const found = await columns(
    connection,
    `select fleet, coalesce(model, '') as model, coalesce(slot, '') as slot, datediff('month', $from::date, month)::integer as month, sum(times)::integer as times
     from used group by all order by all`,
    { fleet: "text", model: "text", slot: "text", month: "integer", times: "integer" },
    { from },
  );
  const months = monthsBetween(from, to);
  const pieces = kits.parts.map(() => new Int32Array(months));
  const names = [...slots, WHOLE_FRAME];
  for (const [row, month] of found.month.entries()) {
    const kind = kits.kindOf({ fleet: found.fleet[row]!, model: found.model[row] || null });
    const slot = names.indexOf(found.slot[row] || WHOLE_FRAME);
    if (kind < 0 || slot < 0) continue;
    for (const [at, part] of kits.parts.entries()) {
      pieces[at]![month]! += found.times[row]! * takenBy(part, kind * names.length + slot);
    }
  }
  return { months, pieces };
}

function takenBy({ pieces }: KitPart, place: number): number {
  return pieces[place] ?? 0;
}

/** Whole months from one day to another, both firsts of a month. */
export function monthsBetween(from: string, to: string): number {
  const months = (day: string) => 12 * Number(day.slice(0, 4)) + Number(day.slice(5, 7));
  return months(to) - months(from);
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { countMoments } from "../stats/spares/count-moments.ts";
import { countQuantile } from "../stats/spares/count-quantile.ts";
import { useForecast } from "../stats/spares/use-forecast.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Estimate } from "./estimate.ts";
import type { PastUse } from "./spares-answer.ts";
import type { KitPart, Kits } from "./spares-kits.ts";
import { monthsBefore } from "./spares-origins.ts";
import { addDays } from "./spares-use.ts";

/** Pieces of each part that cards put in, month by month: `pieces[part][month]`. */
type PastCounts = { months: number; pieces: Int32Array[] };

export type PastAsked = {
  fleet?: string;
  slots: string[];
  kits: Kits;
  /** First day, and the day after the last, YYYY-MM-DD: whole months. */
  from: string;
  to: string;
};

/** What was used in a stretch of whole months. */
async function pastCounts(connection: DuckDBConnection, asked: PastAsked): Promise<PastCounts> {
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
  const width = slots.length + 1;
  for (const [row, month] of found.month.entries()) {
    const kind = kits.kindOf({ fleet: found.fleet[row]!, model: found.model[row] || null });
    // No slot: the opening itself, which stands last.
    const slot = found.slot[row] === "" ? slots.length : slots.indexOf(found.slot[row]!);
    if (kind < 0 || slot < 0) continue;
    for (const [at, part] of kits.parts.entries()) {
      pieces[at]![month]! += found.times[row]! * takenBy(part, kind * width + slot);
    }
  }
  return { months, pieces };
}

function takenBy({ pieces }: KitPart, place: number): number {
  return pieces[place] ?? 0;
}

/** Whole months from one day to another, both firsts of a month. */
function monthsBetween(from: string, to: string): number {
  const months = (day: string) => 12 * Number(day.slice(0, 4)) + Number(day.slice(5, 7));
  return months(to) - months(from);
}

/** Months of past use that are looked at: longer ago the fleet was another. */
const LOOKED_AT = 36;
/** Fewer months say nothing of a year. */
const LEAST = 12;

/** Use of each part in the whole months up to the as-of date, and what it makes likely over the horizon; null where the past is too short. */
export async function pastUse(
  connection: DuckDBConnection,
  asked: Omit<PastAsked, "from" | "to"> & { asOf: string; begins: string; horizon: number; level: number },
): Promise<Omit<PastUse, "disagrees">[] | null> {
  const { asOf, begins, horizon, level } = asked;
  // A month is whole when the as-of date is its last day.
  const to = addDays(asOf, 1).slice(0, 8).concat("01");
  const months = Math.min(LOOKED_AT, monthsBetween(firstOfNext(begins), to));
  if (months < LEAST) return null;
  const from = monthsBefore(to, months);
  const { pieces } = await pastCounts(connection, { ...asked, from, to });
  const exposure = new Float64Array(months).fill(1);
  const tail = (1 - level) / 2;
  return pieces.map((events) => {
    const used = events.reduce((sum, month) => sum + month, 0);
    const { chances, dispersion } = useForecast({ events: Float64Array.from(events), exposure }, horizon);
    return {
      months,
      pieces: used,
      perYear: (12 * used) / months,
      forecast: {
        estimate: countMoments(chances).mean,
        low: countQuantile(chances, tail),
        high: countQuantile(chances, 1 - tail),
      },
      dispersion: dispersion?.ratio ?? null,
    };
  });
}

/** Whether the means of two forecasts each lie outside the other's range. */
export function disagree(one: Estimate, other: Estimate): boolean {
  const outside = (value: number | null, { low, high }: Estimate) =>
    value !== null && low !== null && high !== null && (value < low || value > high);
  return outside(one.estimate, other) && outside(other.estimate, one);
}

/** The first day of a month that began no earlier than a day. */
function firstOfNext(day: string): string {
  return day.endsWith("-01") ? day : monthsBefore(`${day.slice(0, 8)}01`, -1);
}

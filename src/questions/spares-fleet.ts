import type { DuckDBConnection } from "@duckdb/node-api";
import type { OpeningFleet } from "../stats/spares/opening-fleet.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Clock } from "./answer.ts";
import { DAYS_A_MONTH } from "./spares-demand.ts";

/** The units that serve on, with what is known of each, and what was not known of some. */
export type ServingFleet = {
  units: { fleet: string; unit: string; model: string | null }[];
  /** As `OpeningFleet`, the openings for other reasons as one slot more. A frame that stands until a place is empty has a rate of 0. */
  age: Float64Array;
  rate: Float64Array;
  rateSpread: Float64Array;
  /** Opened in the shop, not yet built: they take parts at once. */
  opened: Int32Array;
  /** Openings that the workspace plans: unit and months from now; and the numbers planned for that no frame in service has. */
  planned: { unit: Int32Array; month: Float64Array };
  plannedUnknown: string[];
  /** Built and not back in service: those that fill a place that is empty run from now on, the others when a frame fails. */
  ready: number;
  /** Months from the opening of a frame to when it is built and takes its parts, by fleet. */
  turnaround: Map<string, number>;
  /** Units whose running rate is not known; slots in them whose age is not: taken from the others of their fleet. */
  rateTaken: number;
  ageTaken: number;
};

export type ServingAsked = {
  fleet?: string;
  clock: Clock;
  slots: string[];
  planned: Configuration["planned_rebuilds"];
};

/** Makes the tables of what serves on, and reads them. The connection holds `life`, `installation` and `as_of`. */
export async function servingFleet(
  connection: DuckDBConnection,
  { fleet, clock, slots, planned }: ServingAsked,
): Promise<ServingFleet> {
  await runStep(connection, "60_in_service", { fleet: fleet ?? null, clock, slots: JSON.stringify(slots) });
  const found = await columns(
    connection,
    `select fleet, unit, coalesce(model, '') as model, standing, coalesce(rate, median(rate) over (partition by fleet), median(rate) over ()) as rate, rate is null as taken,
            coalesce(varies, avg(varies) over (), 0) as varies, runs, turnaround
     from serving order by unit_number`,
    {
      ...{
        fleet: "text",
        unit: "text",
        model: "text",
        standing: "text",
        rate: "number",
        taken: "boolean",
        varies: "number",
      },
      ...{ runs: "boolean", turnaround: "number" },
    },
  );
  const ages = await columns(
    connection,
    `select coalesce(age, avg(age) over (partition by fleet, slot_number), avg(age) over (partition by slot_number), 0) as age, age is null as taken
     from serving_slot join serving using (unit_number) order by unit_number, slot_number`,
    { age: "number", taken: "boolean" },
  );
  const frame = await frameAges(connection, clock);
  const width = slots.length + 1;
  const age = new Float64Array(found.fleet.length * width);
  for (let unit = 0; unit < found.fleet.length; unit++) {
    age.set(ages.age.subarray(unit * slots.length, (unit + 1) * slots.length), unit * width);
    age[unit * width + slots.length] = frame[unit]!;
  }
  const units = found.fleet.map((name, at) => ({ fleet: name, unit: found.unit[at]!, model: found.model[at] || null }));
  return {
    units,
    ...(await plannedOpenings(connection, units, planned, fleet)),
    age,
    rate: found.rate.map((rate, unit) => (Number.isNaN(rate) || found.runs[unit] === 0 ? 0 : rate)),
    rateSpread: found.varies,
    opened: Int32Array.from(found.standing.keys()).filter((unit) => found.standing[unit] === "opened"),
    turnaround: new Map(found.fleet.map((name, unit) => [name, found.turnaround[unit]!])),
    ready: found.standing.filter((standing) => standing === "ready").length,
    rateTaken: found.taken.reduce((sum, one) => sum + one, 0),
    ageTaken: ages.taken.reduce((sum, one) => sum + one, 0),
  };
}

/** The openings planned from the as-of date on. */
async function plannedOpenings(
  connection: DuckDBConnection,
  units: ServingFleet["units"],
  planned: ServingAsked["planned"],
  fleet: string | undefined,
): Promise<Pick<ServingFleet, "planned" | "plannedUnknown">> {
  const { day } = await columns(connection, "select as_of::varchar as day from as_of", { day: "text" });
  const ahead = planned
    .filter(({ on, fleet: own }) => on > day[0]! && (fleet === undefined || own === undefined || own === fleet))
    .map((one) => ({
      ...one,
      at: units.findIndex(({ unit, fleet: own }) => unit === one.unit && (one.fleet ?? own) === own),
    }));
  const found = ahead.filter(({ at }) => at >= 0);
  return {
    planned: {
      unit: Int32Array.from(found, ({ at }) => at),
      month: Float64Array.from(found, ({ on }) => (Date.parse(on) - Date.parse(day[0]!)) / 86_400_000 / DAYS_A_MONTH),
    },
    // Of one fleet among several a number without a fleet may be another's.
    plannedUnknown: fleet === undefined ? ahead.filter(({ at }) => at < 0).map(({ unit }) => unit) : [],
  };
}

/** Run since each frame was last built. */
async function frameAges(connection: DuckDBConnection, clock: Clock): Promise<Float64Array> {
  const { age } = await columns(
    connection,
    `with built as (
       select fleet, unit, arg_max(coalesce(${clock}, 0), build_number) as ran, arg_max(stop_on, build_number) as followed_on from installation group by fleet, unit
     )
     select case when standing <> 'serving' then 0 else coalesce(ran + greatest(as_of - followed_on, 0) * coalesce(by_day, 0), 0) end as age
     from serving left join built using (fleet, unit), as_of order by unit_number`,
    { age: "number" },
  );
  return age;
}

/** The units as they are simulated: of each the laws of its fleet, and counted with those that take the same parts. */
export function openingFleet(
  serving: ServingFleet,
  { fleets, slots, countedIn }: { fleets: string[]; slots: number; countedIn: Int32Array },
): OpeningFleet {
  const { units, age, rate, rateSpread, opened, planned, turnaround } = serving;
  return {
    slots: slots + 1,
    group: Int32Array.from(units, ({ fleet }) => fleets.indexOf(fleet)),
    ...{ age, rate, rateSpread, countedIn },
    delay: Float64Array.from(units, (unit) => turnaround.get(unit.fleet) ?? 0),
    planned: {
      unit: Int32Array.from([...opened, ...planned.unit]),
      // Those in the shop are open now.
      month: Float64Array.from([...new Float64Array(opened.length), ...planned.month]),
    },
  };
}

import type { DuckDBConnection } from "@duckdb/node-api";
import { type Openings, simulateOpenings } from "../stats/spares/simulate-openings.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { type Demand, demandOf, PERIODS_A_MONTH } from "./spares-demand.ts";
import { openingFleet, type ServingFleet, servingFleet } from "./spares-fleet.ts";
import { type KitPart, type Kits, kitsOf } from "./spares-kits.ts";
import { type FleetLaws, fleetLaws } from "./spares-laws.ts";
import type { SparesQuestion } from "./spares-scope.ts";

/** Over so many fleets each keeps no account of its own: a stock apart for each would be nobody's. */
const MOST_APART = 12;

/** What serves on an as-of date, the laws of its slots, and what takes which parts. */
export type FleetReading = {
  serving: ServingFleet;
  kits: Kits;
  laws: FleetLaws;
  fleets: string[];
  slots: string[];
};

/** What the units may do in the months ahead. */
export type Forecast = FleetReading & {
  openings: Openings;
  /** Fleets that are told apart in the counts; 1 where they are too many. */
  apart: number;
};

/** Reads what a forecast is made from. The connection holds `studied`, `life`, `installation` and `as_of`. */
export async function readFleet(
  connection: DuckDBConnection,
  question: Pick<SparesQuestion, "fleet" | "clock" | "draws" | "seed">,
  configuration: Pick<Configuration, "slots" | "kits" | "planned_rebuilds">,
): Promise<FleetReading> {
  const slots = Object.keys(configuration.slots);
  const serving = await servingFleet(connection, {
    ...{ ...question, slots },
    planned: configuration.planned_rebuilds,
  });
  const kits = await kitsOf(connection, configuration, serving.units);
  const fleets = [...new Set(serving.units.map(({ fleet }) => fleet))];
  const laws = await fleetLaws(connection, { ...question, fleets, slots });
  return { serving, kits, laws, fleets, slots };
}

/** Runs the units on, by draws. */
export function simulateFleet(
  reading: FleetReading,
  { months, draws, seed }: { months: number; draws: number; seed: number },
): Forecast {
  const { serving, kits, laws, fleets, slots } = reading;
  const apart = fleets.length <= MOST_APART ? Math.max(1, fleets.length) : 1;
  const countedIn = Int32Array.from(
    serving.units,
    (unit) => kits.kindOf(unit) * apart + (apart === 1 ? 0 : fleets.indexOf(unit.fleet)),
  );
  const fleet = openingFleet(serving, { fleets, slots: slots.length, countedIn });
  // The simulation counts in parts of a month: rates, delays and plans are told to it so.
  const rate = fleet.rate.map((own) => own / PERIODS_A_MONTH);
  const delay = fleet.delay?.map((own) => own * PERIODS_A_MONTH);
  const planned = fleet.planned && { ...fleet.planned, month: fleet.planned.month.map((own) => own * PERIODS_A_MONTH) };
  const openings = simulateOpenings(
    { ...fleet, rate, ...(delay && { delay }), ...(planned && { planned }) },
    laws.laws,
    {
      months: months * PERIODS_A_MONTH,
      draws,
      seed,
    },
  );
  return { ...reading, openings, apart };
}

/** Pieces of a part that all units take, or those of one fleet where fleets are told apart. */
export function partDemand({ openings, kits, apart }: Forecast, part: KitPart, fleet?: number): Demand {
  return demandOf(openings, part, { kinds: kits.kinds, fleets: apart, ...(fleet !== undefined && { fleet }) });
}

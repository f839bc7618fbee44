import type { DuckDBConnection } from "@duckdb/node-api";
import { countsOfDraws } from "../stats/spares/counts-of-draws.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Replayed } from "./spares-backtest-scores.ts";
import { replayedUse } from "./spares-backtest-use.ts";
import { openingsOf, PERIODS_A_MONTH, taken } from "./spares-demand.ts";
import { partDemand, readFleet, simulateFleet } from "./spares-forecast.ts";
import { REPLAYED_MONTHS } from "./spares-origins.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { addDays } from "./spares-use.ts";

/** The forecasts of one origin and what came: of each part, and last of the frames opened. */
export type ReplayedOrigin = { parts: string[]; series: Replayed[] };

export type OriginAsked = {
  question: Pick<SparesQuestion, "fleet" | "clock" | "draws" | "seed">;
  configuration: Pick<Configuration, "slots" | "kits">;
  /** Days on which months begin, and the place among them of the day after the origin. */
  edges: string[];
  place: number;
  isApart: boolean;
};

/**
 * Forecasts from an origin, and what was used in the 12 months after it; null where nothing was known of any unit by then. The connection
 * holds `studied`, `life`, `installation` and `as_of` as of the origin, and `used` of the same fleets over all months.
 */
export async function replayFleet(connection: DuckDBConnection, asked: OriginAsked): Promise<ReplayedOrigin | null> {
  const { question, configuration, edges, place } = asked;
  // What is planned today was not known then.
  const reading = await readFleet(connection, question, { ...configuration, planned_rebuilds: [] });
  if (reading.serving.units.length === 0 || reading.laws.lives === 0) return null;
  const forecast = simulateFleet(reading, { ...question, months: REPLAYED_MONTHS });
  const end = place + REPLAYED_MONTHS;
  const use = await replayedUse(connection, configuration, edges.slice(0, end + 1));
  const { parts } = reading.kits;
  const demands = [...parts.map((part) => partDemand(forecast, part)), openingsOf(forecast.openings)];
  const ahead = (months: Int32Array) => months.subarray(place, end).reduce((sum, pieces) => sum + pieces, 0);
  return {
    parts: parts.map(({ part }) => part),
    series: demands.map((demand, series) => ({
      ...{ origin: addDays(edges[place]!, -1), to: addDays(edges[end]!, -1), isApart: asked.isApart },
      chances: countsOfDraws(taken(demand, 0, REPLAYED_MONTHS * PERIODS_A_MONTH)),
      past: use.known[series]!.subarray(0, place),
      used: ahead(use.known[series]!),
      usedByNew: ahead(use.byNew[series]!),
    })),
  };
}

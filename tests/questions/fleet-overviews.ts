import type { DuckDBConnection } from "@duckdb/node-api";
import { fleetOverview } from "../../src/questions/fleet-overview.ts";
import { type OverviewOptions, overviewOffenders, readyOverview } from "../../src/questions/overview.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";

/** The overview of each fleet, one after another, as a report asks for them. */
export async function fleetOverviews(
  connection: DuckDBConnection,
  configuration: Configuration,
  options: OverviewOptions,
): Promise<FleetOverview[]> {
  const asked = (await readyOverview(connection, configuration, options))!;
  const unit = await overviewOffenders(connection, "unit", asked);
  const position = await overviewOffenders(connection, "position", asked);
  const found: FleetOverview[] = [];
  for (const { name, title } of configuration.fleets) {
    const offenders = { unit: unit.get(name)!, position: position.get(name)! };
    found.push((await fleetOverview(connection, { name, title, offenders }, asked)).fleet);
  }
  return found;
}

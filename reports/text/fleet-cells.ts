import type { FleetOverview } from "../../src/questions/overview-types.ts";

/** What the title block says of a fleet: its size, its rebuilds, the years on record. */
export function fleetCells(fleet: FleetOverview): [string, string][] {
  const { units, rebuilds } = fleet.size;
  const first = fleet.timeline.map(({ start }) => start).toSorted()[0];
  return [
    ["Units", units.toLocaleString("en-US")],
    ["Rebuilds", rebuilds.toLocaleString("en-US")],
    ["On record from", first ?? "no date"],
  ];
}

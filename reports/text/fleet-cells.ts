import type { FleetOverview } from "../../src/questions/overview-types.ts";

/** Units of a fleet with a build on record, and its rebuilds. */
export function fleetSize({ timeline, intervals }: FleetOverview): { units: number; rebuilds: number } {
  return {
    units: new Set(timeline.map(({ unit }) => unit)).size,
    rebuilds: intervals.groups.flatMap(({ mcf }) => mcf).reduce((sum, { events }) => sum + events, 0),
  };
}

/** What the title block says of a fleet: its size, its rebuilds, the years on record. */
export function fleetCells(fleet: FleetOverview): [string, string][] {
  const { units, rebuilds } = fleetSize(fleet);
  const first = fleet.timeline.map(({ start }) => start).toSorted()[0];
  return [
    ["Units", units.toLocaleString("en-US")],
    ["Rebuilds", rebuilds.toLocaleString("en-US")],
    ["On record from", first ?? "no date"],
  ];
}

import type { FleetOverview } from "../../src/questions/overview-types.ts";

/** What the title block says of a fleet: its size, its rebuilds, the years on record. */
export function fleetCells({ timeline, intervals }: FleetOverview): [string, string][] {
  const units = new Set(timeline.map(({ unit }) => unit)).size;
  const rebuilds = intervals.groups.flatMap(({ mcf }) => mcf).reduce((sum, { events }) => sum + events, 0);
  const first = timeline.map(({ start }) => start).toSorted()[0];
  return [
    ["Units", units.toLocaleString("en-US")],
    ["Rebuilds", rebuilds.toLocaleString("en-US")],
    ["On record from", first ?? "no date"],
  ];
}

import type { FleetExposure } from "./fleet-exposure.ts";

/** What became of the frames that ran at a place: how many, how many came back for failure, and the longest that any of those took at its shortest. */
export type FrameReturns = { frames: number; back: number; longest: number | null };

/** Of each place, what became of the frames that ran there. */
export function frameReturns({
  stretches,
  unit,
  place,
  places,
}: Pick<FleetExposure, "stretches" | "unit" | "place" | "places">): FrameReturns[] {
  const shortest = places.map(() => new Map<number, number>());
  for (let row = 0; row < unit.length; row++) {
    if (place[row]! < 0) continue;
    const own = shortest[place[row]!]!;
    const age = stretches.event[row] === 1 ? stretches.stop[row]! : Number.POSITIVE_INFINITY;
    own.set(unit[row]!, Math.min(own.get(unit[row]!) ?? Number.POSITIVE_INFINITY, age));
  }
  return shortest.map((own) => {
    const back = [...own.values()].filter(Number.isFinite);
    return { frames: own.size, back: back.length, longest: back.length === 0 ? null : Math.max(...back) };
  });
}

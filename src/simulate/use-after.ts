import { addMonths, isoDate } from "./day.ts";
import { liveFleet } from "./live-fleet.ts";
import type { World } from "./world.ts";

/** What a fleet goes on to use in the months after the as-of day, by month of the build: frames opened, and new components by slot. */
export type UseAfter = { until: string; opened: number[]; renewed: { slot: string; by_month: number[] }[] };

/** Lives the same fleet on past its as-of day. Of frames that are in the shop on that day, what their build takes is counted after it. */
export function useAfter(world: World, months: number): UseAfter {
  const ends = Array.from({ length: months }, (_, month) => addMonths(world.asOf + 1, month + 1) - 1);
  const until = ends.at(-1);
  if (until === undefined) throw new RangeError(`Cannot live a fleet on: found ${months} months`);
  const opened = ends.map(() => 0);
  const renewed = Object.keys(world.scenario.slots).map((slot) => ({ slot, by_month: ends.map(() => 0) }));
  for (const { build, findings } of liveFleet({ ...world, until }).rebuilds) {
    const month = ends.findIndex((end) => build.builtOn <= end);
    if (build.builtOn <= world.asOf || month === -1) continue;
    opened[month]! += 1;
    findings.forEach(({ fitted }, at) => {
      if (fitted) renewed[at]!.by_month[month]! += 1;
    });
  }
  return { until: isoDate(until), opened, renewed };
}

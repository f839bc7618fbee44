import type { Position, Unit } from "./history.ts";
import type { World } from "./world.ts";

/**
 * The places of a fleet. They open as frames are bought, so that the share of spare frames stays the same; the offenders are
 * among the first, so that they are seen for as long as there are records.
 */
export function drawPositions({ plan, random }: World, units: Unit[]): Position[] {
  const places = plan.sites.flatMap((site) => Array.from({ length: site.positions }, () => site));
  const named = places.map((site, index) => {
    const code = `${plan.position_prefix}${String(index + 1).padStart(2, "0")}`;
    const offender = plan.offenders.find(({ position }) => position === code);
    const turn = offender === undefined ? random("position", code).uniform() : -1;
    return { code, site: site.name, surroundings: site.surroundings, offender, turn };
  });
  named.sort((a, b) => a.turn - b.turn || (a.code < b.code ? -1 : 1));
  return named.map(({ turn: _, ...position }, order) => {
    const filledBy = units[Math.floor((order * units.length) / named.length)];
    if (filledBy === undefined) throw new RangeError(`Cannot open position ${position.code}: the fleet has no units`);
    return { ...position, opensOn: filledBy.boughtOn };
  });
}

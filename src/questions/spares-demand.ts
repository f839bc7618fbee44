import type { Openings } from "../stats/spares/simulate-openings.ts";
import type { KitPart } from "./spares-kits.ts";

/** Parts of a month in which the simulation counts, so that a lead time need not be whole months. */
export const PERIODS_A_MONTH = 4;
export const DAYS_A_MONTH = 365.25 / 12;
export const DAYS_A_PERIOD = DAYS_A_MONTH / PERIODS_A_MONTH;

/** Pieces of a part that each draw takes in each period: `pieces[draw * periods + period]`. */
export type Demand = { draws: number; periods: number; pieces: Int32Array };

/** What takes a part: every group of results, or those of one fleet. Groups are numbered kind * fleets + fleet where told apart. */
export type DemandOf = { kinds: number; fleets: number; fleet?: number };

/** Pieces of a part, from the openings and the restarts of the slots that take it. */
export function demandOf(openings: Openings, part: KitPart, { kinds, fleets, fleet }: DemandOf): Demand {
  const { draws, months: periods } = openings;
  const demand: Demand = { draws, periods, pieces: new Int32Array(draws * periods) };
  const own = fleet === undefined ? Array.from({ length: fleets }, (_, of) => of) : [fleet];
  for (let kind = 0; kind < kinds; kind++) {
    for (const of of own) addGroup(demand, openings, part, { kind, group: kind * fleets + of });
  }
  return demand;
}

/** The last slot of the simulation is what opens frames for other reasons; that of a kit is the opening itself. */
function addGroup(
  demand: Demand,
  openings: Openings,
  part: KitPart,
  { kind, group }: { kind: number; group: number },
): void {
  if (group >= openings.groups) return;
  for (let slot = 0; slot < openings.slots; slot++) {
    const pieces = part.pieces[kind * openings.slots + slot]!;
    if (pieces > 0) addSlot(demand, openings, { group, slot, pieces });
  }
}

function addSlot(demand: Demand, openings: Openings, of: { group: number; slot: number; pieces: number }): void {
  const { draws, slots, months: periods } = openings;
  const whole = of.slot === slots - 1;
  const counts = whole ? openings.openings : openings.pieces;
  for (let draw = 0; draw < draws; draw++) {
    const row = of.group * draws + draw;
    const from = whole ? row * periods : (row * slots + of.slot) * periods;
    for (let period = 0; period < periods; period++) {
      demand.pieces[draw * periods + period]! += of.pieces * counts[from + period]!;
    }
  }
}

/** Frames opened, all groups together, as demand. */
export function openingsOf(openings: Openings): Demand {
  const { groups, draws, months: periods } = openings;
  const pieces = new Int32Array(draws * periods);
  for (let group = 0; group < groups; group++) {
    for (let at = 0; at < pieces.length; at++) pieces[at]! += openings.openings[group * pieces.length + at]!;
  }
  return { draws, periods, pieces };
}

/** What each draw takes from one period up to another; the latter may differ from draw to draw. */
export function taken({ draws, periods, pieces }: Demand, from: number, to: number | Int32Array): Int32Array {
  return Int32Array.from({ length: draws }, (_, draw) => {
    const end = Math.min(typeof to === "number" ? to : to[draw]!, periods);
    let sum = 0;
    for (let period = from; period < end; period++) sum += pieces[draw * periods + period]!;
    return sum;
  });
}

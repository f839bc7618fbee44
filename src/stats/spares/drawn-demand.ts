import { checkedWhole } from "./check-chances.ts";
import type { Openings } from "./simulate-openings.ts";

/** Which of the simulated counts. */
export type DemandWindow = {
  /** Group of results. */
  group: number;
  /** Slot whose restarts are counted; openings where not given. */
  slot?: number;
  /** First month, from 0 on. */
  from: number;
  /** Months from there, 0 or more, within those simulated. */
  months: number;
};

/**
 * What each draw needs within a window of months: restarts of a slot, or openings. `countsOfDraws` makes their distribution, of which
 * `countsInLots` takes the pieces; where a lead time is not known, mix those of several windows.
 * @param openings - as `simulateOpenings` gives them
 * @param window - group, slot and months
 * @returns a count for each draw
 * @throws RangeError for a window that was not simulated
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12
 * @example
 * const fleet = { slots: 1, group: Int32Array.of(0), age: Float64Array.of(4000), rate: Float64Array.of(350) };
 * const laws = { shape: Float64Array.of(1.6), scale: Float64Array.of(20_000), restart: Float64Array.of(1) };
 * const openings = simulateOpenings(fleet, laws, { months: 36, draws: 2000, seed: 1 });
 * countsOfDraws(drawnDemand(openings, { group: 0, slot: 0, from: 0, months: 12 }));
 */
export function drawnDemand(openings: Openings, { group, slot, from, months }: DemandWindow): Int32Array {
  for (const [name, value] of Object.entries({ "a group": group, "a slot": slot ?? 0, "a month": from, months })) {
    checkedWhole(name, value, 0);
  }
  if (group >= openings.groups || (slot ?? 0) >= openings.slots || from + months > openings.months) {
    throw new RangeError(`Cannot look up demand: group ${group}, slot ${slot}, months ${from} to ${from + months}`);
  }
  const counts = slot === undefined ? openings.openings : openings.pieces;
  const rows = slot === undefined ? 1 : openings.slots;
  return Int32Array.from({ length: openings.draws }, (_, draw) => {
    const start = ((group * openings.draws + draw) * rows + (slot ?? 0)) * openings.months + from;
    let sum = 0;
    for (let month = 0; month < months; month++) sum += counts[start + month]!;
    return sum;
  });
}

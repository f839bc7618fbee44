import type { Openings } from "./simulate-openings.ts";

/**
 * Puts draws together that several threads have simulated: as if one had drawn them all.
 * @param parts - of one fleet and one number of months, in the order of their draws; at least one
 * @returns all draws
 * @throws RangeError for parts that don't fit together
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12
 * @example
 * const fleet = { slots: 1, group: Int32Array.of(0), age: Float64Array.of(4000), rate: Float64Array.of(350) };
 * const laws = { shape: Float64Array.of(1.6), scale: Float64Array.of(20_000), restart: Float64Array.of(1) };
 * joinOpenings([0, 1000].map((from) => simulateOpenings(fleet, laws, { months: 36, draws: 1000, seed: 1, from })));
 */
export function joinOpenings(parts: readonly Openings[]): Openings {
  const [first] = parts;
  if (first === undefined) throw new RangeError("Cannot put draws together: there are none");
  const { groups, slots, months } = first;
  if (parts.some((part) => part.groups !== groups || part.slots !== slots || part.months !== months)) {
    throw new RangeError("Cannot put draws together: they are of different fleets or months");
  }
  const draws = parts.reduce((sum, part) => sum + part.draws, 0);
  const joined: Openings = {
    groups,
    draws,
    slots,
    months,
    openings: new Int32Array(groups * draws * months),
    pieces: new Int32Array(groups * draws * slots * months),
    stopped: parts.reduce((sum, part) => sum + part.stopped, 0),
  };
  for (let group = 0, at = 0; group < groups; group++) {
    for (const part of parts) {
      const [from, size] = [group * part.draws * months, part.draws * months];
      joined.openings.set(part.openings.subarray(from, from + size), at);
      joined.pieces.set(part.pieces.subarray(from * slots, (from + size) * slots), at * slots);
      at += size;
    }
  }
  return joined;
}

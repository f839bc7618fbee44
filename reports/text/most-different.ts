import type { FleetsCompared } from "../../src/questions/overview-types.ts";
import type { FleetInShort } from "../fleet-in-short.ts";

/**
 * The fleets whose L10 lies furthest, for how well it is known, from the middle one of all, in the slot where it lies furthest; in their given
 * order. A fleet of which no L10 has both limits is not among them.
 */
export function mostDifferent(fleets: FleetInShort[], most: number): FleetInShort[] {
  const known = fleets.flatMap(({ name, life }) =>
    life.groups.flatMap(({ by, l10: { estimate, low, high } }) =>
      estimate === null || low === null || high === null || !(high > low && low > 0)
        ? []
        : [{ fleet: name, slot: by["slot"] ?? "", log: Math.log(estimate), width: Math.log(high / low) }],
    ),
  );
  const middles = new Map(
    [...new Set(known.map(({ slot }) => slot))].map((slot) => [
      slot,
      middleOf(known.filter((one) => one.slot === slot)),
    ]),
  );
  const far = new Map<string, number>();
  for (const { fleet, slot, log, width } of known) {
    const off = Math.abs(log - middles.get(slot)!) / width;
    far.set(fleet, Math.max(off, far.get(fleet) ?? 0));
  }
  const furthest = new Set(
    [...far]
      .toSorted(([, one], [, other]) => other - one)
      .slice(0, most)
      .map(([fleet]) => fleet),
  );
  return fleets.filter(({ name }) => furthest.has(name));
}

function middleOf(own: { log: number }[]): number {
  const sorted = own.map(({ log }) => log).toSorted((one, other) => one - other);
  return sorted[Math.floor((sorted.length - 1) / 2)]!;
}

/** The same comparisons with those ratios alone that concern some of the fleets. */
export function comparedAmong(compared: FleetsCompared, fleets: FleetInShort[]): FleetsCompared {
  const names = new Set(fleets.map(({ name }) => name));
  const among = (group: number) => names.has(compared.groups[group]?.by["fleet"] ?? "");
  return {
    ...compared,
    comparisons: compared.comparisons.map((comparison) => ({
      ...comparison,
      ratios: comparison.ratios.filter(({ group }) => among(group)),
    })),
  };
}

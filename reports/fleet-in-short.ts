import type { IntervalsAnswer, IntervalsGroup, LifeAnswer, LifeGroup } from "../src/questions/answer.ts";
import type { BenchGroup } from "../src/questions/bench-answer.ts";
import type { Dossier } from "../src/questions/dossier-types.ts";
import type { Entity, OffendersAnswer } from "../src/questions/offenders-answer.ts";
import type { FleetOverview } from "../src/questions/overview-types.ts";
import type { FleetRegister } from "../src/questions/register-types.ts";

type SlotInShort = Pick<LifeGroup, "by" | "basis" | "l10" | "median" | "pooled">;
type EntityInShort = Pick<Entity, "id" | "verdict" | "events" | "expected">;
type OffendersInShort = Pick<OffendersAnswer, "answer"> & { entities: EntityInShort[] };

/** What came back, without what was found in each. */
type BackInShort = Pick<NonNullable<BenchGroup["comebacks"]>, "share"> & { list: ArrayLike<unknown> };
type BenchInShort = {
  basis: Pick<BenchGroup["basis"], "readings">;
  comebacks: BackInShort | null;
  shims: Pick<NonNullable<BenchGroup["shims"]>, "flaggedInAll"> | null;
};

/**
 * What the pages of all fleets together say of one, and what leads to its own pages. The rest of its overview, some megabytes, is for its own pages
 * alone, and let go when these are written.
 */
export type FleetInShort = Pick<
  FleetOverview,
  "name" | "title" | "size" | "slots" | "listed" | "endPlay" | "findings" | "warnings"
> & {
  life: Pick<LifeAnswer, "answer" | "clock" | "basis"> & { groups: SlotInShort[] };
  intervals: Pick<IntervalsAnswer, "answer"> & { groups: Pick<IntervalsGroup, "mtbr">[] };
  offenders: { unit: OffendersInShort; position: OffendersInShort };
  dossiers: Pick<Dossier, "kind" | "id">[];
  builds: readonly unknown[];
  bench: { groups: BenchInShort[] };
};

/** Names of frames and positions on record, in their order, and on how many builds each page of them has to find room for. */
export type RegisterInShort = Record<"frames" | "positions", { id: string; builds: number }[]>;

/** The part of an overview that the pages of all fleets together need. */
export function fleetInShort({ life, intervals, offenders, bench, ...fleet }: FleetOverview): FleetInShort {
  const { name, title, size, slots, listed, endPlay, findings, warnings } = fleet;
  const slot = ({ by, basis, l10, median, pooled }: LifeGroup): SlotInShort => ({ by, basis, l10, median, pooled });
  const entity = ({ id, verdict, events, expected }: Entity): EntityInShort => ({ id, verdict, events, expected });
  const short = ({ answer, entities }: OffendersAnswer): OffendersInShort => ({
    answer,
    entities: entities.map(entity),
  });
  return {
    ...{ name, title, size, slots, listed, endPlay, findings, warnings },
    life: { answer: life.answer, clock: life.clock, basis: life.basis, groups: life.groups.map(slot) },
    intervals: { answer: intervals.answer, groups: intervals.groups.map(({ mtbr }) => ({ mtbr })) },
    offenders: { unit: short(offenders.unit), position: short(offenders.position) },
    dossiers: fleet.dossiers.map(({ kind, id }) => ({ kind, id })),
    builds: fleet.builds.map(({ answer }) => answer),
    bench: { groups: bench.groups.map(benchInShort) },
  };
}

function benchInShort({ basis, comebacks, shims }: BenchGroup): BenchInShort {
  return {
    basis: { readings: basis.readings },
    comebacks: comebacks && { share: comebacks.share, list: comebacks.list.map(({ card }) => card) },
    shims: shims && { flaggedInAll: shims.flaggedInAll },
  };
}

/** The part of a register that the pages of all fleets together need. */
export function registerInShort({ frames, positions }: FleetRegister): RegisterInShort {
  const short = ({ id, builds }: { id: string; builds: number }) => ({ id, builds });
  return { frames: frames.map(short), positions: positions.map(short) };
}

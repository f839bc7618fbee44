import type { Basis } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import type { Entity } from "../../src/questions/offenders-answer.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import { groupTitle } from "./group-title.ts";

/** Fleets that an index has room to tell of one by one. */
export const FEW_FLEETS = 8;

/** Offenders, and those to watch. */
export type Out = { offenders: number; watch: number };

/** How one fleet stands beside the others. */
export type FleetStanding = {
  fleet: FleetInShort;
  frames: Out;
  positions: Out;
  /** Its shortest-lived slot and the L10 there; null where no life is fitted. */
  shortest: { slot: string; l10: Estimate & { estimate: number } } | null;
  /** Share of its lives that could not be used; null where it has none. */
  unusable: number | null;
  /** Share of builds back for failure inside the limit. */
  back: Estimate | null;
};

export type StandingGroup = { title: string; standings: FleetStanding[] };

/** How a fleet stands. */
export function standingOf(fleet: FleetInShort): FleetStanding {
  const { life, offenders, bench } = fleet;
  return {
    fleet,
    frames: outOf(offenders.unit.entities),
    positions: outOf(offenders.position.entities),
    shortest: shortestOf(fleet),
    unusable: unusableOf(life.basis),
    back: bench.groups[0]?.comebacks?.share ?? null,
  };
}

/** Fleets by what their records say, the worst first in each group; groups without a fleet are left out. */
export function standingGroups(fleets: FleetInShort[]): StandingGroup[] {
  const standings = fleets.map(standingOf).toSorted(worstFirst);
  const stand = (standing: FleetStanding) => out(standing) > 0;
  const groups = [
    { title: "Something stands out", standings: standings.filter(stand) },
    {
      title: "Nothing stands out beyond chance",
      standings: standings.filter((standing) => !stand(standing) && standing.shortest !== null),
    },
    {
      title: "Too little on record for a life",
      standings: standings.filter((standing) => !stand(standing) && standing.shortest === null),
    },
  ];
  return groups.filter((group) => group.standings.length > 0);
}

function outOf(entities: Pick<Entity, "verdict">[]): Out {
  const of = (verdict: Entity["verdict"]) => entities.filter((entity) => entity.verdict === verdict).length;
  return { offenders: of("offender"), watch: of("watch") };
}

function shortestOf({ life, slots }: FleetInShort): FleetStanding["shortest"] {
  const known = life.groups.flatMap(({ by, l10 }) =>
    l10.estimate === null ? [] : [{ slot: groupTitle(by, slots), l10: { ...l10, estimate: l10.estimate } }],
  );
  return known.toSorted((one, other) => one.l10.estimate - other.l10.estimate)[0] ?? null;
}

function unusableOf({ lives, leftOut }: Basis): number | null {
  const left = Object.values(leftOut).reduce((sum, count) => sum + count, 0);
  return lives + left === 0 ? null : left / (lives + left);
}

/** Offenders weigh before all to watch; of fleets alike in that the shorter-lived comes first, and one without a life last. */
function worstFirst(one: FleetStanding, other: FleetStanding): number {
  const shorter = (one.shortest?.l10.estimate ?? Infinity) - (other.shortest?.l10.estimate ?? Infinity);
  return (
    offenders(other) - offenders(one) ||
    out(other) - out(one) ||
    (Number.isNaN(shorter) ? 0 : shorter) ||
    one.fleet.title.localeCompare(other.fleet.title, "en", { numeric: true })
  );
}

function offenders({ frames, positions }: FleetStanding): number {
  return frames.offenders + positions.offenders;
}

function out(standing: FleetStanding): number {
  return offenders(standing) + standing.frames.watch + standing.positions.watch;
}

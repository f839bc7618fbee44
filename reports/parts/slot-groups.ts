import type { LifeGroup } from "../../src/questions/answer.ts";
import type { FleetOverview, SlotLives } from "../../src/questions/overview-types.ts";
import { groupTitle } from "../text/group-title.ts";
import type { SlotGroup } from "./slot-life.tsx";

const NO_LIVES: SlotLives = { slot: "", entry: [], time: [], ended: [] };

/** The groups of a fleet's life answer, each with its title and its lives. */
export function slotGroups({ life, slots, lives }: FleetOverview): SlotGroup[] {
  return life.groups.map((group) => ({
    ...group,
    title: groupTitle(group.by, slots),
    lives: livesOf(group, lives),
  }));
}

/** Id of the part of the life page that is about a slot, by its place in the answer. */
export function slotId(index: number): string {
  return `slot-${index + 1}`;
}

/** Age of the longest life; 0 where there is none. */
export function longestLife({ time }: SlotLives): number {
  return Array.from(time).reduce((most, age) => Math.max(most, age), 0);
}

function livesOf({ by }: LifeGroup, lives: SlotLives[]): SlotLives {
  return lives.find(({ slot }) => slot === by["slot"]) ?? NO_LIVES;
}

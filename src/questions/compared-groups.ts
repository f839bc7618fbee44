import type { By } from "./answer.ts";
import { NOT_RECORDED } from "./grouping.ts";
import { groupTitle, type Source } from "./scope.ts";
import { count } from "./wording.ts";

/** With fewer failures a group is not named as the first or the last of several: chance alone would name it. */
export const ENOUGH_TO_NAME = 5;

/** Words for a sentence about several groups: what they have in common is said once. */
export type ComparedGroups = {
  /** Begins the sentence: "Saltmere, shortest-lived", or "Shortest-lived" where nothing is common. */
  lead: (words: string) => string;
  /** "5 slots" where slots alone tell the groups apart, else "15 groups". */
  among: string;
  /** A group by what sets it apart from the others. */
  titleOf: (group: { by: By }) => string;
};

/** Groups that a sentence may name: enough failures, and a value on record in every column. */
export function nameable<Group extends { by: By }>(groups: Group[], failures: (group: Group) => number): Group[] {
  return groups.filter((group) => failures(group) >= ENOUGH_TO_NAME && !Object.values(group.by).includes(NOT_RECORDED));
}

/** "5 slots", or of how many of them a sentence speaks: "28 of 600 groups, those with 5 or more failures". */
export function ofThese(named: number, all: number, among: string): string {
  return named === all ? among : `${named} of ${among}, those with ${ENOUGH_TO_NAME} or more failures`;
}

export function comparedGroups(groups: { by: By }[], source: Source): ComparedGroups {
  const keys = Object.keys(groups[0]?.by ?? {});
  const differing = keys.filter((key) => new Set(groups.map(({ by }) => by[key])).size > 1);
  const only = (by: By, wanted: (key: string) => boolean) =>
    Object.fromEntries(Object.entries(by).filter(([key]) => wanted(key)));
  const common = only(groups[0]?.by ?? {}, (key) => !differing.includes(key));
  const [kind = "group"] = differing.length === 1 ? differing.filter((key) => key === "slot" || key === "fleet") : [];
  return {
    lead: (words) =>
      Object.keys(common).length === 0
        ? `${words[0]?.toUpperCase()}${words.slice(1)}`
        : `${groupTitle(common, source)}, ${words}`,
    among: count(groups.length, kind),
    titleOf: ({ by }) =>
      groupTitle(
        only(by, (key) => differing.includes(key)),
        source,
      ),
  };
}

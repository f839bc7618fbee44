import { bandEdges } from "../workspace/band-edges.ts";
import type { LifeGroup } from "./answer.ts";
import { outerBandsWarnings } from "./compare-bands.ts";
import type { GroupOfLives } from "./group-lives.ts";
import { intervalWarning, intervalWarnings } from "./interval-warnings.ts";
import { lawName } from "./law-name.ts";
import { MINIMUM_AT_RISK } from "./life-curves.ts";
import { mergedWarnings } from "./merged-warnings.ts";
import { groupTitle, type Source } from "./scope.ts";
import { count, inWords, percent } from "./wording.ts";

/** Below this many failures the limits are wide and the fit leans on single lives. */
const FEW_FAILURES = 5;
/** Relative change of L10 or the median from which another reading of the lives is called out. */
const WORTH_SAYING = 0.1;
/** Up to so many groups are each told of by name. */
const NAMED = 3;

const READINGS = {
  unknownAsFailed: "lives of unknown ending are taken as failed",
  lastSeen: "running lives are stopped at their last evidence instead of followed to the as-of date",
} as const;

/** What to be careful of in one group, beside other readings of its lives. */
export function groupWarnings(answer: LifeGroup, { read, entities }: GroupOfLives, drawn: boolean): string[] {
  const found: string[] = [];
  const { failed, lives } = answer.basis;
  if (answer.l10.estimate === null) found.push(`no life could be fitted: ${answer.l10.reason ?? "no estimate"}`);
  else if (failed < FEW_FAILURES) found.push(`only ${count(failed, "failure")}: read the limits, not the estimate`);
  const interval = intervalWarning(answer);
  if (interval !== null) {
    found.push(interval);
  } else if (drawn && answer.survivalFrom === null && lives > 0) {
    found.push(`never are ${MINIMUM_AT_RISK} lives at risk at once: no survival curve is drawn`);
  } else if (answer.survivalFrom !== null && answer.survivalFrom > 0) {
    found.push(
      `lives enter late: the survival curve starts at ${inWords(answer.survivalFrom)}, where ${MINIMUM_AT_RISK} are at risk`,
    );
  }
  // Limits that were held against those by leaving out units, and are wider, know of the units.
  if (answer.interval.clusters === null && entities < read && answer.l10.estimate !== null) {
    found.push(
      "units give several lives each, which the limits take as independent: where frames differ they are too narrow",
    );
  }
  const better = answer.alternatives.find(({ clearlyBetter }) => clearlyBetter);
  if (better !== undefined) {
    found.push(
      `a ${lawName(better.distribution)} law describes the lives clearly better than the ${lawName(answer.distribution)} one: see --distribution ${better.distribution}`,
    );
  }
  return found;
}

/** Where the answer moves under another reading of the lives. */
export function readingWarnings(group: LifeGroup): string[] {
  return (["unknownAsFailed", "lastSeen"] as const).flatMap((reading) => {
    const said = moves(group, reading).map(({ figure, change }) => `${figure} by ${signed(change)}`);
    return said.length === 0 ? [] : [`where ${READINGS[reading]} the answer moves: ${said.join(" and ")}`];
  });
}

/** A group's warnings, less those that are said better of all groups at once. */
export function otherWarnings(group: LifeGroup): string[] {
  const apart = [...readingWarnings(group), intervalWarning(group)];
  return group.warnings.filter((warning) => !apart.includes(warning));
}

/** The warnings of all groups: what is said of several is said once, and of many groups that move the one that moves most. */
export function answerWarnings(groups: LifeGroup[], source: Source): string[] {
  return [...bandWarnings(groups, source), ...ofGroups(groups, source)];
}

/** Where groups are bands of end play. */
function bandWarnings(groups: LifeGroup[], source: Source): string[] {
  if (source.kind === "table") return [];
  const lives = new Map<string, number>();
  for (const { by, basis } of groups) {
    const band = by["end_play_band"];
    if (band !== undefined) lives.set(band, (lives.get(band) ?? 0) + basis.lives);
  }
  return outerBandsWarnings(lives, bandEdges(source.configuration), source.configuration.display.length);
}

function ofGroups(groups: LifeGroup[], source: Source): string[] {
  const titled = groups.map((group) => ({ group, title: groupTitle(group.by, source) }));
  if (groups.length <= NAMED)
    return mergedWarnings(titled.map(({ group, title }) => ({ title, warnings: group.warnings })));
  const plain = titled.map(({ group, title }) => ({ title, warnings: otherWarnings(group) }));
  return [
    ...mergedWarnings(plain),
    ...intervalWarnings(groups, "group"),
    ...(["unknownAsFailed", "lastSeen"] as const).flatMap((reading) => mostMoved(titled, reading)),
  ];
}

function mostMoved(titled: { group: LifeGroup; title: string }[], reading: keyof typeof READINGS): string[] {
  const moved = titled.flatMap(({ group, title }) => {
    const largest = moves(group, reading).toSorted((a, b) => Math.abs(b.change) - Math.abs(a.change))[0];
    return largest === undefined ? [] : [{ title, ...largest }];
  });
  const most = moved.toSorted((a, b) => Math.abs(b.change) - Math.abs(a.change))[0];
  if (most === undefined) return [];
  return [
    `where ${READINGS[reading]} L10 or the median moves by over ${percent(WORTH_SAYING)} in ${moved.length} of ${count(titled.length, "group")}, most in ${most.title}: ${most.figure} by ${signed(most.change)}`,
  ];
}

function moves(group: LifeGroup, reading: keyof typeof READINGS): { figure: string; change: number }[] {
  const second = group[reading];
  return (
    [
      ["l10", "L10"],
      ["median", "the median"],
    ] as const
  ).flatMap(([key, figure]) => {
    const here = group[key].estimate;
    const there = second?.[key].estimate ?? null;
    if (here === null || there === null || Math.abs(there / here - 1) <= WORTH_SAYING) return [];
    return [{ figure, change: there / here - 1 }];
  });
}

function signed(change: number): string {
  return `${change > 0 ? "+" : "-"}${percent(Math.abs(change))}`;
}

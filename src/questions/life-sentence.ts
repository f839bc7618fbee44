import type { Clock, LifeGroup } from "./answer.ts";
import { comparedGroups, ENOUGH_TO_NAME, nameable, ofThese } from "./compared-groups.ts";
import { hazardTrend } from "./hazard-trend.ts";
import { lawName } from "./law-name.ts";
import { groupTitle, type Source } from "./scope.ts";
import { count, inWords, unitOf, withLimits } from "./wording.ts";

/** What a `life` answer says first: of one group its L10, of several the shortest- and the longest-lived. */
export function lifeSentence(groups: LifeGroup[], source: Source, clock: Clock | null): string {
  if (groups.length === 0) return "No life meets the question: widen --fleet, --slot, --where or --as-of.";
  if (groups.length === 1) return `${groupTitle(groups[0]!.by, source)}: ${lifeOf(groups[0]!, clock)}.`;
  const { lead, among, titleOf } = comparedGroups(groups, source);
  const known = nameable(groups, ({ basis }) => basis.failed)
    .filter(({ l10 }) => l10.estimate !== null)
    .toSorted((a, b) => (a.l10.estimate ?? 0) - (b.l10.estimate ?? 0));
  const shortest = known[0];
  if (shortest === undefined) {
    return `${lead(`fewer than ${ENOUGH_TO_NAME} failures on record for each`)} of ${among}: too few to name one.`;
  }
  const longest = known.length > 1 ? known.at(-1) : undefined;
  const last = longest === undefined ? "" : `; longest: ${titleOf(longest)}, ${withLimits(longest.l10, unitOf(clock))}`;
  return `${lead("shortest-lived")} of ${ofThese(known.length, groups.length, among)}: ${titleOf(shortest)}, ${lifeOf(shortest, clock)}${last}.`;
}

/** "10 % have failed by 5,910 h (4,720 to 7,130), from 61 failures in 148 lives; failures rise with age". */
function lifeOf(group: LifeGroup, clock: Clock | null): string {
  const from = `${count(group.basis.failed, "failure")} in ${count(group.basis.lives, "life", "lives")}`;
  if (group.l10.estimate === null)
    return `no answer yet from ${from}: ${group.l10.reason ?? "no estimate"}${atLeast(group, clock)}`;
  return `10 % have failed by ${withLimits(group.l10, unitOf(clock))}, from ${from}; ${ageing(group)}`;
}

/** The shape that stands for all where a bound is told in one sentence: between the ball bearings' of ISO 281 and strong wear. */
const USUAL_SHAPE = 1.5;

/** What can be said all the same, the shape being taken as known. */
function atLeast({ assumedShape, interval }: LifeGroup, clock: Clock | null): string {
  const bound = assumedShape.find(({ shape }) => shape === USUAL_SHAPE || interval.method === "chi-square");
  if (bound === undefined || bound.l10.low === null) return "";
  return `; with a Weibull shape of ${inWords(bound.shape)} taken as known, 10 % fail after ${inWords(bound.l10.low)}${unitOf(clock)} at the earliest`;
}

function ageing({ shape, interval, distribution }: LifeGroup): string {
  if (interval.method === "chi-square") return `with a Weibull shape of ${inWords(shape.estimate ?? 0)} taken as known`;
  if (distribution === "exponential") return "with failures taken to come at the same rate at any age";
  if (distribution !== "weibull") return `by a ${lawName(distribution)} law`;
  const words = {
    rises: "failures rise with age",
    falls: "failures fall with age, early ones lead",
    "about constant": "the rate of failure hardly changes with age",
    open: `whether failures rise with age can't be told, for the shape is ${withLimits(shape, "")}`,
  };
  return words[hazardTrend(shape)];
}

import { compareGroups, type RatioTest } from "../stats/groups/compare-groups.ts";
import { ratioOfIntervals } from "../stats/groups/ratio-of-intervals.ts";
import type { Lives } from "../stats/lives.ts";
import { logRank } from "../stats/survival/log-rank.ts";
import type { LifeGroup } from "./answer.ts";
import type { Estimate } from "./estimate.ts";
import { type GroupOfLives, intervalsOf } from "./group-lives.ts";
import type { Comparison } from "./life-answer.ts";
import { intervalCensored, rightCensored } from "./life-curves.ts";
import { count } from "./wording.ts";

/** More groups than this are a table to look at; a test that all of them are alike would say nothing of any. */
export const MOST_COMPARED = 50;

/** A group of an answer with the lives that it was made from. */
export type Answered = { group: LifeGroup; lives: GroupOfLives };

/** The lives of a group, whether or not they are answered for. */
export type Grouped = { group: Pick<LifeGroup, "by">; lives: GroupOfLives };

/** Compares the lives of the groups of each slot; `addRatios` adds what their answers tell. */
export function comparisonsOf(answered: Grouped[]): Comparison[] {
  const bySlot = new Map<string | null, number[]>();
  answered.forEach(({ group }, place) => {
    const slot = group.by["slot"] ?? null;
    bySlot.set(slot, [...(bySlot.get(slot) ?? []), place]);
  });
  return [...bySlot].flatMap(([slot, places]) =>
    places.length < 2 || places.length > MOST_COMPARED ? [] : [compared(slot, places, answered)],
  );
}

function compared(slot: string | null, places: number[], answered: Grouped[]): Comparison {
  const members = places.map((place) => answered[place]!);
  const tests = compareGroups(members.map(({ lives }) => intervalsOf(lives)));
  const ranked = rankTest(members.map(({ lives }) => lives));
  return {
    slot,
    commonShape: testOf(tests.oneShape),
    oneLaw: testOf(tests.oneDistribution),
    logRank: "reason" in ranked ? null : ranked,
    ratios: [],
    reasons: [
      ...reasonOf("no test of one shape", tests.oneShape),
      ...reasonOf("no test of one law", tests.oneDistribution),
      ...("reason" in ranked ? [`no log-rank test: ${ranked.reason}`] : []),
    ],
    pooling: null,
  };
}

function testOf(test: RatioTest): Comparison["commonShape"] {
  return test.tested ? { statistic: test.chiSquare, df: test.degrees, p: test.p } : null;
}

function reasonOf(what: string, test: RatioTest): string[] {
  return test.tested ? [] : [`${what}: ${test.reason}`];
}

function rankTest(groups: GroupOfLives[]): { statistic: number; df: number; p: number } | { reason: string } {
  const hidden = groups.reduce((sum, lives) => sum + intervalCensored(intervalsOf(lives)), 0);
  if (hidden > 0) {
    return {
      reason: `${count(hidden, "failure is", "failures are")} known by an interval only; the test of one law takes them`,
    };
  }
  const columns = groups.map((group) => rightCensored(intervalsOf(group))!);
  const group = Int32Array.from(columns.flatMap(({ time }, number) => Array.from(time, () => number)));
  const { statistic, degrees, p, reason } = logRank(joined(columns), { group, groups: groups.length });
  return statistic === null || p === null
    ? { reason: reason ?? "the groups can't be compared" }
    : { statistic, df: degrees, p };
}

function joined(columns: Lives[]): Lives {
  const all = (pick: (lives: Lives) => Float64Array) =>
    Float64Array.from(columns.flatMap((lives) => Array.from(pick(lives))));
  return {
    time: all(({ time }) => time),
    failed: Uint8Array.from(columns.flatMap(({ failed }) => Array.from(failed))),
    entry: all(({ time, entry }) => entry ?? new Float64Array(time.length)),
    count: all(({ time, count }) => count ?? new Float64Array(time.length).fill(1)),
  };
}

/** Adds the ratio of each group's L10 to that of the one with most failures in its slot, to comparisons of the same groups in the same order. */
export function addRatios(comparisons: Comparison[], groups: Pick<LifeGroup, "by" | "basis" | "l10">[]): void {
  for (const comparison of comparisons) {
    const places = groups.flatMap(({ by }, place) => ((by["slot"] ?? null) === comparison.slot ? [place] : []));
    comparison.ratios = ratiosOf(places, groups);
  }
}

function ratiosOf(places: number[], groups: Pick<LifeGroup, "basis" | "l10">[]): Comparison["ratios"] {
  const known = places.filter((place) => groups[place]!.l10.estimate !== null);
  const failed = (place: number) => groups[place]!.basis.failed;
  const of = known.reduce<number | null>(
    (most, place) => (most === null || failed(place) > failed(most) ? place : most),
    null,
  );
  if (of === null) return [];
  const reference = groups[of]!.l10;
  return known
    .filter((place) => place !== of)
    .map((group) => ({ group, of, ratio: ratio(groups[group]!.l10, reference) }));
}

/** Of two L10 that are known. */
function ratio(above: Estimate, below: Estimate): Estimate {
  return ratioOfIntervals({ ...above, estimate: above.estimate! }, { ...below, estimate: below.estimate! });
}

import type { IntervalsAnswer, IntervalsGroup } from "../questions/answer.ts";
import type { TrendTest } from "../questions/recurrence-answer.ts";
import { type TrendDirection, trendDirection } from "../questions/trend-direction.ts";
import { inWords } from "../questions/wording.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

const KINDS = ["all", "failure", "planned"] as const;

/** Tests for trend by the name of their column, and in the answer. */
const TESTS = [
  ["laplace", "laplace"],
  ["mil_hdbk_189", "milHdbk189"],
  ["lewis_robinson", "lewisRobinson"],
  ["reverse_arrangements", "reverseArrangements"],
] as const;

/** Over so many groups these tables say little of each. */
const MOST_GROUPS = 12;

/** The groups of an `intervals` answer as a table: for people, and in full for a CSV file. */
export function intervalsTable(answer: IntervalsAnswer): AnswerTable {
  const { groups } = answer;
  const by = Object.keys(groups[0]?.by ?? {});
  const { one, planned } = wordsOf(answer);
  return {
    text: {
      headers: [...by, "units", "service", "failures", planned, `per ${one}`, "per failure", "median interval"],
      right: [...by.map(() => false), true, true, true, true, true, true, true],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        String(group.units),
        inWords(group.exposure),
        String(group.events.failure),
        String(group.events.planned),
        ...[group.mtbr.all, group.mtbr.failure, group.medianInterval].map(shortly),
      ]),
    },
    more: [trendTable(answer), lawTable(answer), differenceTable(answer)].filter(({ table }) => table.rows.length > 0),
    csv: {
      headers: [
        ...by,
        ...["units", "exposure", "failures", "planned"],
        ...KINDS.flatMap((kind) => [`mtbr_${kind}`, `mtbr_${kind}_low`, `mtbr_${kind}_high`]),
        ...["median_interval", "median_interval_low", "median_interval_high"],
        ...TESTS.map(([name]) => `${name}_p`),
        ...["power_law_shape", "power_law_shape_low", "power_law_shape_high", "power_law_scale"],
        ...["degree_of_repair", "degree_of_repair_low", "degree_of_repair_high"],
      ],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        ...[group.units, group.exposure, group.events.failure, group.events.planned],
        ...KINDS.flatMap((kind) => [group.mtbr[kind].estimate, group.mtbr[kind].low, group.mtbr[kind].high]),
        ...[group.medianInterval.estimate, group.medianInterval.low, group.medianInterval.high],
        ...TESTS.map(([, name]) => group.trend[name].p),
        ...[group.powerLaw.shape.estimate, group.powerLaw.shape.low, group.powerLaw.shape.high],
        group.powerLaw.scale.estimate,
        ...[group.degreeOfRepair.degree.estimate, group.degreeOfRepair.degree.low, group.degreeOfRepair.degree.high],
      ]),
    },
  };
}

type Own = { title: string; table: TextTable };

/** What is counted: rebuilds of frames; of a slot, replacements, of which those unfailed were seldom planned for its sake. */
function wordsOf({ groups }: IntervalsAnswer): { one: string; planned: string } {
  return groups[0]?.by["slot"] === undefined
    ? { one: "rebuild", planned: "planned" }
    : { one: "replacement", planned: "unfailed" };
}

function nameOf(group: IntervalsGroup): string {
  return Object.values(group.by).join(", ") || "all";
}

function trendTable(answer: IntervalsAnswer): Own {
  const { groups, level } = answer;
  return {
    title: `Do ${wordsOf(answer).one}s come closer together? (two-sided p)`,
    table: {
      headers: ["", "Laplace", "MIL-HDBK-189", "Lewis-Robinson", "reverse arrangements", "direction"],
      right: [false, true, true, true, true, false],
      rows: closely(groups).map((group) => [
        nameOf(group),
        ...TESTS.map(([, name]) => testInWords(group.trend[name])),
        directionInWords(trendDirection(group.trend, level)),
      ]),
    },
  };
}

function directionInWords({ direction, tests }: TrendDirection): string {
  if (tests === 0) return "";
  return direction ?? "none beyond chance";
}

function testInWords({ p, reason }: TrendTest): string {
  if (p === null) return reason ?? "";
  return p < 0.001 ? "under 0.001" : String(Number(p.toPrecision(2)));
}

function lawTable(answer: IntervalsAnswer): Own {
  const { groups } = answer;
  const { one } = wordsOf(answer);
  return {
    title: "By the age of the frame",
    table: {
      headers: ["", "power-law shape", `age at one ${one}`, "mean time at the oldest age", `after a ${one}`],
      right: [false, true, true, true, false],
      rows: closely(groups)
        .filter(({ powerLaw, degreeOfRepair }) => powerLaw.shape.estimate !== null || degreeOfRepair.model !== null)
        .map((group) => [
          nameOf(group),
          ...[shortly(group.powerLaw.shape), shortly(group.powerLaw.scale)],
          group.powerLaw.now === null ? "" : shortly(group.powerLaw.now.meanTime),
          group.degreeOfRepair.says,
        ]),
    },
  };
}

function differenceTable(answer: IntervalsAnswer): Own {
  const { groups, differences } = answer;
  return {
    title: `Difference in ${wordsOf(answer).one}s per frame`,
    table: {
      headers: ["", "against", "by service of", "difference"],
      right: [false, false, true, true],
      rows: differences.map(({ group, against, atEnd, reason }) => [
        ...[nameOf(groups[group]!), nameOf(groups[against]!), atEnd === null ? "" : inWords(atEnd.time)],
        atEnd === null ? (reason ?? "") : shortly(atEnd.difference),
      ]),
    },
  };
}

function closely(groups: IntervalsGroup[]): IntervalsGroup[] {
  return groups.length > MOST_GROUPS ? [] : groups;
}

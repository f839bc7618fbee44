import type { BenchAnswer, BenchGroup, BenchSplit, Comeback } from "../questions/bench-answer.ts";
import { shareWords } from "../questions/bench-sentence.ts";
import { recentShare } from "../questions/recent-share.ts";
import { count, inWords, wholePercent } from "../questions/wording.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

/** Lines of a table for people: the latest. In full in JSON, splits also in CSV. */
const SHOWN = 12;
/** Fields of the cards that more than this share lack are told. */
const COMPLETE = 0.98;

/** A `bench` answer as tables: for people the latest lines; in full for a CSV file. */
export function benchTable(answer: BenchAnswer): AnswerTable {
  const { groups } = answer;
  return {
    text: groupsTable(groups),
    more: groups.flatMap((group) => (groups.length > 1 ? shortOf(group) : moreOf(group, ""))),
    next: `${groups.length > 1 ? "By month and model, and what is often blank: --fleet NAME. " : ""}Control limits come from the readings and say what is usual; the window says what is right.${groups.some(({ comebacks }) => comebacks !== null) ? " framelife bench UNIT prints the sheet of one frame." : ""}`,
    csv: {
      headers: [
        ...[
          "fleet",
          "by",
          "value",
          "builds",
          "readings",
          "mean",
          "outside",
          "outside_share",
          "outside_low",
          "outside_high",
        ],
        ...["followed", "comebacks", "comeback_share", "comeback_low", "comeback_high"],
      ],
      rows: groups.flatMap(({ by, splits }) =>
        splits.map(({ outside, comebacks, ...split }) => [
          ...[by["fleet"] ?? null, split.by, split.value, split.builds, split.readings, split.mean, outside.count],
          ...[outside.estimate, outside.low, outside.high, comebacks.of, comebacks.count],
          ...[comebacks.estimate, comebacks.low, comebacks.high],
        ]),
      ),
    },
  };
}

function groupsTable(groups: BenchGroup[]): TextTable {
  const ofWorkspace = groups.some(({ comebacks }) => comebacks !== null);
  return {
    headers: [
      ...[ofWorkspace ? "fleet" : "", "builds", "read", "below", "above", "outside", "mean", "usual from", "to"],
      ...(ofWorkspace ? ["shims off", `back in ${groups[0]!.comebacks!.limit} d`, "share back"] : []),
    ],
    right: [false, true, true, true, true, true, true, true, true, true, true, true],
    rows: groups.map(({ title, basis, asBuilt, shims, comebacks }) => [
      ...[title, String(basis.builds), String(basis.readings), String(asBuilt.below), String(asBuilt.above)],
      ...[shareWords(asBuilt.outside), figure(asBuilt.mean)],
      ...[lowerLimit(asBuilt.chart.limits), figure(asBuilt.chart.limits?.high ?? null)],
      ...(shims === null ? [] : [shims.checked === 0 ? "none checked" : `${shims.flaggedInAll} of ${shims.checked}`]),
      ...(comebacks === null ? [] : [String(comebacks.share.count), shareWords(comebacks.share)]),
    ]),
  };
}

/** A length can't lie below 0, whatever the limits reckon. */
function lowerLimit(limits: BenchGroup["asBuilt"]["chart"]["limits"]): string {
  return limits !== null && limits.low < 0 ? "under 0" : figure(limits?.low ?? null);
}

function figure(value: number | null): string {
  return value === null ? "" : shortly({ estimate: value, low: null, high: null });
}

/** Of one fleet among several: what to look at now. */
function shortOf(group: BenchGroup): More {
  const where = `, ${group.title}`;
  return [...shimTable(group, where), ...comebackTable(group, where)];
}

type More = { title: string; table: TextTable }[];

function moreOf(group: BenchGroup, where: string): More {
  return [
    ...splitTables(group, where),
    ...fitterTable(group, where),
    ...shimTable(group, where),
    ...comebackTable(group, where),
    ...blankTable(group, where),
  ];
}

function splitTables({ splits, comebacks }: BenchGroup, where: string): More {
  return [...new Set(splits.map(({ by }) => by))].map((by) => {
    const own = splits.filter((split) => split.by === by);
    const shown = by === "month" ? own.slice(-SHOWN) : own;
    const latest = shown.length < own.length ? ` (the latest ${SHOWN} of ${own.length})` : "";
    return {
      title: `By ${by === "month" ? "month built" : by.replaceAll("_", " ")}${latest}${where}`,
      table: {
        headers: [
          by.replaceAll("_", " "),
          "builds",
          "read",
          "outside",
          "mean",
          ...(comebacks === null ? [] : ["back", "share back"]),
        ],
        right: [false, true, true, true, true, true, true],
        rows: shown.map((split) => splitRow(split, comebacks !== null)),
      },
    };
  });
}

function splitRow({ value, builds, readings, outside, mean, comebacks }: BenchSplit, back: boolean): string[] {
  return [
    ...[value, String(builds), String(readings), String(outside.count), figure(mean)],
    ...(back ? [String(comebacks.count), shareWords(comebacks)] : []),
  ];
}

function fitterTable({ asBuilt: { betweenFitters: found, unit } }: BenchGroup, where: string): More {
  if (found === null) return [];
  return [
    {
      title: `Between fitters${where} (one figure for all: none is shown of any)`,
      table: {
        headers: ["fitters", "readings", "share of the variation between them", "sd between", "sd within", "p"],
        right: [true, true, true, true, true, true],
        rows: [
          [
            ...[String(found.fitters), String(found.readings), shareWords(found.share)],
            ...[`${inWords(found.betweenSd)} ${unit ?? ""}`.trim(), `${inWords(found.withinSd)} ${unit ?? ""}`.trim()],
            found.p < 0.001 ? "under 0.001" : String(Number(found.p.toPrecision(2))),
          ],
        ],
      },
    },
  ];
}

function shimTable({ shims }: BenchGroup, where: string): More {
  if (shims === null || shims.flagged.length === 0) return [];
  return [
    {
      title: `Shims that don't leave the end play read${of(shims.flagged.length, shims.flaggedInAll)}${where}`,
      table: {
        headers: ["built", "card", "frame", "shims leave", "read", "difference", "from"],
        right: [false, false, false, true, true, true, false],
        rows: shims.flagged
          .slice(0, SHOWN)
          .map(({ on, card, unit, expected, reading, difference, from }) => [
            ...[on ?? "", card, unit ?? "", inWords(expected), inWords(reading), signed(difference), from],
          ]),
      },
    },
  ];
}

function of(shown: number, all: number): string {
  return all > Math.min(SHOWN, shown) ? ` (the latest ${SHOWN} of ${all})` : "";
}

function signed(value: number): string {
  return `${value > 0 ? "+" : ""}${inWords(value)}`;
}

function comebackTable({ comebacks }: BenchGroup, where: string): More {
  if (comebacks === null || comebacks.list.length === 0) return [];
  return [
    {
      title: `Back for failure within ${count(comebacks.limit, "day")}${of(comebacks.list.length, comebacks.share.count)}${where}`,
      table: {
        headers: ["back on", "frame", "position", "days", "end play", "card", "what was found"],
        right: [false, false, false, true, true, false, false],
        rows: comebacks.list
          .slice(0, SHOWN)
          .map(({ backOn, unit, position, days, endPlay, outside, card, ...found }) => [
            ...[backOn, unit, position ?? "", String(days)],
            ...[endPlay === null ? "" : `${inWords(endPlay)}${outside ? " outside" : ""}`, card, foundWords(found)],
          ]),
      },
    },
  ];
}

/** What was found at a comeback: "drive end seals failed, lip cut; ...". Serviceable slots are passed over where others are not. */
export function foundWords({ found, failedSlot }: Pick<Comeback, "found" | "failedSlot">): string {
  const telling = found.filter(({ condition, damageMode }) => condition === "failed" || damageMode !== null);
  const words = (telling.length > 0 ? telling : found.filter(({ condition }) => condition === "worn")).map(
    ({ slot, condition, damageMode }) =>
      [slot.replaceAll("_", " "), [condition, damageMode?.replaceAll("_", " ")].filter(Boolean).join(", ")].join(" "),
  );
  if (words.length > 0) return words.join("; ");
  return failedSlot === null ? "nothing on the card" : `${failedSlot.replaceAll("_", " ")} named, nothing said of it`;
}

function blankTable({ completeness }: BenchGroup, where: string): More {
  const blank = completeness.filter(({ share, records }) => records > 0 && share < COMPLETE);
  if (blank.length === 0) return [];
  return [
    {
      title: `Often blank on the cards${where}`,
      table: {
        headers: ["field", "cards", "have it", "share", "since", "in the latest months"],
        right: [false, true, true, true, false, true],
        rows: blank
          .toSorted((one, two) => one.share - two.share)
          .map(({ field, records, have, share, months }) => [
            ...[field.replaceAll("_", " "), String(records), String(have), wholePercent(share)],
            ...[months.find((month) => month.have > 0)?.month ?? "never", recentWords(months)],
          ]),
      },
    },
  ];
}

function recentWords(months: Parameters<typeof recentShare>[0]): string {
  const share = recentShare(months);
  return share === null ? "" : wholePercent(share);
}

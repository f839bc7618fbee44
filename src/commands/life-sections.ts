import { limitsWords } from "../../reports/text/limits-words.ts";
import type { LifeAnswer, LifeGroup } from "../questions/answer.ts";
import { lawName } from "../questions/law-name.ts";
import type { Comparison } from "../questions/life-answer.ts";
import { inWords, percent, unitOf } from "../questions/wording.ts";
import type { TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

type Section = { title: string; table: TextTable };

/** More groups than this are told of in the main table alone; `--json` has everything. */
const MOST_GROUPS = 12;
/** Running units shown for each group, those most likely to fail first. */
const SHOWN_RUNNING = 10;

/** What a `life` answer says beyond its main table. */
export function lifeSections(answer: LifeAnswer): Section[] {
  if (answer.groups.length > MOST_GROUPS) return [];
  const unit = unitOf(answer.clock);
  const ages = unit === "" ? "" : `, ages in${unit}`;
  const groups = answer.groups.map((group) => ({ group, name: nameOf(group) }));
  const of = (build: (group: LifeGroup, name: string) => string[][]) =>
    groups.flatMap(({ group, name }) => build(group, name));
  return [
    section("How the limits were found", ["group", "law", "limits"], of(limitRows), 3),
    section(
      `Life by a share failed${unit === "" ? "" : `,${unit}`}`,
      ["group", "share failed", "age"],
      of(askedQuantiles),
      1,
    ),
    section(`Share unfailed${ages}`, ["group", "at age", "share"], of(missionRows), 1),
    section(
      `Running now: chance to run on unfailed${ages}`,
      ["group", "unit", "position", "age", "further", "chance"],
      of(runningRows),
      3,
    ),
    section("By damage mode", ["group", "mode", "failed", "shape", "L10 of the mode alone"], of(modeRows), 2),
    section("With the shape taken as known", ["group", "shape", "L10", "median"], of(assumedRows), 1),
    section(
      "Against the catalogue (ISO 281), which counts fatigue alone",
      ["group", "basic L10h", "modified", "seen over rated"],
      of(ratingRows),
      1,
    ),
    section("What the catalogue life rests on", ["group", "quantity", "value", "source"], ratingBasis(groups), 4),
    section(
      "Borrowing from the other groups",
      ["group", "L10", "median", "shape", "own weight", "L10 moved by"],
      of(pooledRows),
      1,
    ),
    section(
      "How well the law fits",
      ["group", "Anderson-Darling", "p", "shape corrected", "best other law", "gain"],
      of(fitRows),
      1,
    ),
    section("Between groups", ["slot", "test", "statistic", "df", "p"], answer.comparisons.flatMap(testRows), 2),
    section(
      "L10 over that of the group with most failures",
      ["group", "over", "ratio"],
      answer.comparisons.flatMap(({ ratios }) =>
        ratios.map(({ group, of: other, ratio }) => [groups[group]!.name, groups[other]!.name, shortly(ratio)]),
      ),
      2,
    ),
  ].filter(({ table }) => table.rows.length > 0);
}

/** @param texts - how many columns from the left are text */
function section(title: string, headers: string[], rows: string[][], texts: number): Section {
  return { title, table: { headers, rows, right: headers.map((_, column) => column >= texts) } };
}

function nameOf({ by }: LifeGroup): string {
  return Object.values(by).join(" ") || "all";
}

function limitRows(group: LifeGroup, name: string): string[][] {
  return group.l10.estimate === null && group.l10.low === null
    ? []
    : [[name, lawName(group.distribution), limitsWords(group.interval)]];
}

const USUAL = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9];

function askedQuantiles({ quantiles }: LifeGroup, name: string): string[][] {
  if (quantiles.every(({ p }) => USUAL.includes(p))) return [];
  return quantiles.map(({ p, ...age }) => [name, percent(p), shortly(age)]);
}

function missionRows({ mission }: LifeGroup, name: string): string[][] {
  return mission.map(({ time, ...share }) => [name, inWords(time), inPercent(share)]);
}

function runningRows({ conditional }: LifeGroup, name: string): string[][] {
  const first = conditional[0]?.further;
  return conditional
    .filter(({ further, estimate }) => further === first && estimate !== null)
    .toSorted((one, two) => (one.estimate ?? 1) - (two.estimate ?? 1))
    .slice(0, SHOWN_RUNNING)
    .map(({ unit, position, age, further, ...chance }) => [
      name,
      unit ?? "",
      position ?? "",
      inWords(age),
      inWords(further),
      inPercent(chance),
    ]);
}

function modeRows({ modes }: LifeGroup, name: string): string[][] {
  return (modes?.modes ?? []).map(({ mode, failed, shape, l10 }) => [
    name,
    mode,
    String(failed),
    shortly(shape),
    shortly(l10),
  ]);
}

function assumedRows({ assumedShape }: LifeGroup, name: string): string[][] {
  return assumedShape.map(({ shape, l10, median }) => [name, inWords(shape), atLeast(l10), atLeast(median)]);
}

function ratingRows({ rating }: LifeGroup, name: string): string[][] {
  if (rating === null) return [];
  const hours = (life: number | null) => (life === null ? "–" : inWords(life));
  return [[name, hours(rating.l10h), hours(rating.modified), rating.reason ?? shortly(rating.ratio)]];
}

/** Of more groups the numbers are many, and the same over and over: `--json` and the pages have them. */
const MOST_RATED = 3;

function ratingBasis(groups: { group: LifeGroup; name: string }[]): string[][] {
  const rated = groups.filter(({ group }) => group.rating !== null && group.rating.basis.length > 0);
  if (rated.length > MOST_RATED) return [];
  return rated.flatMap(({ group, name }) =>
    (group.rating?.basis ?? []).map(({ name: quantity, value, source }) => [name, quantity, value, source]),
  );
}

function pooledRows({ pooled }: LifeGroup, name: string): string[][] {
  if (pooled === null) return [];
  const moved =
    pooled.moved === null ? "–" : `${pooled.moved < 0 ? "" : "+"}${inWords(100 * Math.expm1(pooled.moved))} %`;
  return [[name, shortly(pooled.l10), shortly(pooled.median), shortly(pooled.shape), percent(pooled.ownWeight), moved]];
}

function fitRows({ fit, alternatives }: LifeGroup, name: string): string[][] {
  if (fit === null || (fit.andersonDarling.statistic === null && alternatives.length === 0)) return [];
  const { andersonDarling, correctedShape } = fit;
  const best = alternatives.find(({ gain }) => gain !== null);
  return [
    [
      name,
      figure(andersonDarling.statistic),
      figure(andersonDarling.p),
      figure(correctedShape?.corrected ?? null),
      best === undefined ? "–" : lawName(best.distribution),
      figure(best?.gain ?? null),
    ],
  ];
}

function testRows({ slot, commonShape, oneLaw, logRank }: Comparison): string[][] {
  const tests = { "one shape": commonShape, "one law": oneLaw, "log-rank": logRank };
  return Object.entries(tests).flatMap(([name, test]) =>
    test === null ? [] : [[slot ?? "", name, inWords(test.statistic), String(test.df), inWords(test.p)]],
  );
}

function figure(value: number | null): string {
  return value === null ? "–" : inWords(value);
}

function inPercent({
  estimate,
  low,
  high,
}: {
  estimate: number | null;
  low: number | null;
  high: number | null;
}): string {
  if (estimate === null && low === null) return "–";
  const share = (value: number | null) => (value === null ? "?" : inWords(100 * value));
  return `${estimate === null ? "" : `${share(estimate)} % `}(${share(low)} to ${share(high)})`;
}

/** One-sided where nothing failed. */
function atLeast({
  estimate,
  low,
  high,
}: {
  estimate: number | null;
  low: number | null;
  high: number | null;
}): string {
  return estimate === null && low !== null ? `at least ${inWords(low)}` : shortly({ estimate, low, high });
}

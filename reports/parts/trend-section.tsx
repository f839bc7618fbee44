import type { IntervalsAnswer, IntervalsGroup } from "../../src/questions/answer.ts";
import type { Trend, TrendTest } from "../../src/questions/recurrence-answer.ts";
import { count, inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { capitalised } from "../text/capitalised.ts";
import { chanceFigure } from "../text/chance-figure.ts";
import { percentOf } from "../text/percent-of.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** The tests, and what each asks. */
const TESTS: [keyof Trend, string, string][] = [
  [
    "laplace",
    "Laplace",
    "Do rebuilds crowd toward the end of what was watched, where chance would spread them evenly?",
  ],
  ["milHdbk189", "MIL-HDBK-189", "The same, asked against a power law"],
  ["lewisRobinson", "Lewis-Robinson", "The same, where times between rebuilds vary more or less than by pure chance"],
  ["reverseArrangements", "Reverse arrangements", "Are later times between rebuilds shorter than earlier ones?"],
];

/** Whether rebuilds come closer together as service goes on, and how good a rebuilt frame is. */
export function TrendSection({ answer, level }: { answer: IntervalsAnswer; level: number }) {
  const [group] = answer.groups;
  if (group === undefined) return <p>No rebuild interval is on record for this fleet.</p>;
  return (
    <>
      <p>{capitalised(trendWords(group.trend, level))}.</p>
      <DataTable
        caption="Tests for a trend, all units together"
        columns={[
          { title: "Test" },
          { title: "What it asks" },
          { title: "Points to" },
          ...["Statistic", "Chance of so much without a trend", "Rests on"].map((title) => ({ title, figures: true })),
        ]}
        rows={TESTS.map(([key, name, asks]) => testRow(name, asks, group.trend[key]))}
        trace={<RowsBehind command={answer.rows} />}
      />
      <h3>As units age, and after a rebuild</h3>
      <DataTable
        caption={`A power law of age, and the degree of repair, with ${percentOf(level)} intervals`}
        columns={[{ title: "What" }, { title: "Figure", figures: true }, { title: "It says" }]}
        rows={lawRows(group, unitOf(answer.clock))}
        trace={<RowsBehind command={answer.rows} />}
      />
    </>
  );
}

function trendWords(trend: Trend, level: number): string {
  const tests = TESTS.map(([key]) => trend[key]).filter(({ p }) => p !== null);
  const [first] = tests;
  if (first === undefined)
    return `no trend can be looked for: ${trend.laplace.reason ?? "too few rebuilds are on record"}`;
  const sure = tests.filter(({ p }) => (p ?? 1) < 1 - level);
  if (sure.length === 0) return "no trend is seen beyond chance: rebuilds come as close together late as early";
  const ways = new Set(sure.map(({ direction }) => direction));
  const found = `${sure.length} of ${count(tests.length, "test")}`;
  if (ways.size > 1) return `the tests disagree on a trend (${found} see one)`;
  return ways.has("deteriorating")
    ? `rebuilds come closer together as service goes on (${found} see it)`
    : `rebuilds come further apart as service goes on (${found} see it)`;
}

function testRow(name: string, asks: string, { statistic, p, direction, events, units, reason }: TrendTest): Cell[] {
  const rests = `${events.toLocaleString("en-US")} on ${count(units, "unit")}`;
  if (statistic === null) return [name, asks, `Not known: ${reason ?? "too little on record"}`, null, null, rests];
  const points =
    direction === null ? "Neither way" : direction === "deteriorating" ? "Closer together" : "Further apart";
  return [name, asks, points, inWords(statistic), chanceFigure(p), rests];
}

function lawRows({ powerLaw, degreeOfRepair }: IntervalsGroup, unit: string): Cell[][] {
  const { shape, constantRate, now, fit } = powerLaw;
  return [
    ["Shape of the power law", withLimits(shape, ""), shapeWords(shape)],
    ...(constantRate === null
      ? []
      : [["Chance of so much where the rate is constant", chanceFigure(constantRate.p), null] as Cell[]]),
    ...(now === null
      ? []
      : [
          [
            "Mean time between rebuilds at the oldest age",
            withLimits(now.meanTime, unit),
            `Of a unit of ${inWords(now.age)}${unit}, were its rate to stay as it is there`,
          ] as Cell[],
        ]),
    ...(fit === null
      ? []
      : [
          ["Chance of so poor a fit where the law holds", chanceFigure(fit.p), fit.reason ?? fitWords(fit.p)] as Cell[],
        ]),
    [
      "Degree of repair",
      degreeOfRepair.degree.estimate === null ? "not known" : withLimits(degreeOfRepair.degree, ""),
      capitalised(degreeOfRepair.says),
    ],
  ];
}

function shapeWords({ estimate, low, high }: { estimate: number | null; low: number | null; high: number | null }) {
  if (estimate === null) return null;
  if (low !== null && low > 1) return "Rebuilds come closer together as units age";
  if (high !== null && high < 1) return "Rebuilds come further apart as units age";
  return "Age alone shows no trend beyond chance (1 is a constant rate)";
}

function fitWords(p: number | null): string | null {
  if (p === null) return null;
  return p < 0.05 ? "The law fits poorly: read its figures with care" : "Nothing speaks against the law";
}

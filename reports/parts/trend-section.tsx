import type { IntervalsAnswer, IntervalsGroup } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import type { Trend, TrendTest } from "../../src/questions/recurrence-answer.ts";
import { isBeyondChance, type TrendDirection, trendDirection } from "../../src/questions/trend-direction.ts";
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
        rows={TESTS.map(([key, name, asks]) => testRow(name, asks, group.trend[key], level))}
        trace={<RowsBehind command={answer.rows} />}
      />
      <h3>As units age, and after a rebuild</h3>
      <p>
        The tests above ask each unit by itself. The power law takes all units as alike and lets a rebuild change
        nothing of a unit's age; the degree of repair asks how much of that age a rebuild takes away. They are different
        questions, and one may see what another doesn't.
      </p>
      <DataTable
        caption={`A power law of age, and the degree of repair, with ${percentOf(level)} intervals`}
        columns={[{ title: "What" }, { title: "Figure", figures: true }, { title: "It says" }]}
        rows={lawRows(group, unitOf(answer.clock), level)}
        trace={<RowsBehind command={answer.rows} />}
      />
    </>
  );
}

function trendWords(trend: Trend, level: number): string {
  const { direction, seen, tests } = trendDirection(trend, level);
  if (tests === 0) return `no trend can be looked for: ${trend.laplace.reason ?? "too few rebuilds are on record"}`;
  const found = `${seen} of ${count(tests, "test")}`;
  switch (direction) {
    case null:
      return "no trend is seen beyond chance within the service watched of each unit";
    case "tests disagree":
      return `the tests disagree on a trend (${found} see one)`;
    case "deteriorating":
      return `rebuilds come closer together as service goes on (${found} see it, within the service watched of each unit)`;
    case "improving":
      return `rebuilds come further apart as service goes on (${found} see it, within the service watched of each unit)`;
  }
}

function testRow(name: string, asks: string, test: TrendTest, level: number): Cell[] {
  const { statistic, p, direction, events, units, reason } = test;
  const rests = `${events.toLocaleString("en-US")} on ${count(units, "unit")}`;
  if (statistic === null) return [name, asks, `Not known: ${reason ?? "too little on record"}`, null, null, rests];
  const points = direction === "deteriorating" ? "Closer together" : "Further apart";
  const isSeen = direction !== null && isBeyondChance(test, level);
  return [name, asks, isSeen ? points : "Neither way beyond chance", inWords(statistic), chanceFigure(p), rests];
}

function lawRows({ trend, powerLaw, degreeOfRepair }: IntervalsGroup, unit: string, level: number): Cell[][] {
  const { shape, constantRate, now, fit } = powerLaw;
  return [
    ["Shape of the power law", withLimits(shape, ""), shapeWords(shape, trendDirection(trend, level))],
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

function shapeWords({ estimate, low, high }: Estimate, { direction, tests }: TrendDirection): string | null {
  if (estimate === null) return null;
  const alone = direction === null && tests > 0 ? "; within each unit it is not seen beyond chance" : "";
  if (low !== null && low > 1) return `At greater ages rebuilds come closer together, all units taken as alike${alone}`;
  if (high !== null && high < 1) return `At greater ages rebuilds come further apart, all units taken as alike${alone}`;
  return "Age alone shows no trend beyond chance (1 is a constant rate)";
}

function fitWords(p: number | null): string | null {
  if (p === null) return null;
  return p < 0.05 ? "The law fits poorly: read its figures with care" : "Nothing speaks against the law";
}

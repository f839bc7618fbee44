import { describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askSpares } from "../../src/questions/spares.ts";
import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import { withBacktest } from "../../src/questions/spares-backtest.ts";
import type { SparesBacktest } from "../../src/questions/spares-backtest-answer.ts";
import { isApart, originsOf } from "../../src/questions/spares-origins.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { runStep } from "../../src/store/run-step.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";
import { SparesAnswerSchema } from "./answer-schema.ts";

const KITS: Configuration["kits"] = {
  [DRIVE]: [{ part: "PAIR", quantity: 2 }],
  frame: [
    { part: "GASKET", quantity: 1 },
    { part: "NUT", quantity: 1, models: ["B"] },
  ],
};

async function asked(story: Story, { asOf = "2020-12-31", kits = KITS } = {}): Promise<SparesAnswer> {
  const store = await openMemory();
  try {
    await tell(store.connection, story);
    const configuration = { ...configurationOf({ slots: [DRIVE, SEALS], recordsBegin: "2016-01-01" }), kits };
    const derived = await deriveLives(store.connection, { configuration, asOf });
    await runStep(store.connection, "40_studied_days");
    const question = { clock: "days" as const, level: 0.95, horizon: 6, draws: 400, seed: 1 };
    const answer = await askSpares(store.connection, question, { kind: "workspace", configuration, ...derived });
    const steps: string[] = [];
    const tested = await withBacktest(store.connection, answer, {
      ...{ question, configuration },
      onStep: (done, total, what) => steps.push(`${done}/${total} ${what}`),
    });
    expect(steps).toHaveLength(tested.backtest!.origins.length + 1);
    return SparesAnswerSchema.parse(JSON.parse(JSON.stringify(tested))) as SparesAnswer;
  } finally {
    store.close();
  }
}

async function backtest(...args: Parameters<typeof asked>): Promise<SparesBacktest> {
  return (await asked(...args)).backtest!;
}

function opened(unit: string, on: string, model = "A"): NonNullable<Story["cards"]>[number] {
  return {
    ...{ unit, card: `${unit} ${on}`, model, removed_on: on, built_on: on, installed_on: on, reason: "failure" },
    failed_slot: DRIVE,
    slots: { [DRIVE]: { fitted: true, condition: "failed" }, [SEALS]: { fitted: false, condition: "serviceable" } },
  };
}

const YEARS = [2016, 2017, 2018, 2019, 2020];
const UNITS = ["F1", "F2", "F3", "F4", "F5", "F6"];

/** Six frames, each opened every half year, on another day of January and of July. */
const REGULAR: Story = {
  cards: UNITS.flatMap((unit, at) =>
    YEARS.flatMap((year) => [opened(unit, `${year}-01-1${at}`), opened(unit, `${year}-07-1${at}`)]),
  ),
};

/** Replayed once for all that look at it. */
const regular = asked(REGULAR);

describe("originsOf()", () => {
  it("counts back from the as-of date, as long as two years of records lie before", () => {
    const { edges, at } = originsOf("2016-01-01", "2020-12-31");
    expect(edges[0]).toBe("2016-01-01");
    expect(edges.at(-1)).toBe("2021-01-01");
    // From the third year on, which begins on 2018-01-01, to a year before the end
    expect(at.map((place) => edges[place])).toEqual(
      "2018-01-01 2018-04-01 2018-07-01 2018-10-01 2019-01-01 2019-04-01 2019-07-01 2019-10-01 2020-01-01".split(" "),
    );
    expect(at.filter((_, nth) => isApart(nth, at.length)).map((place) => edges[place])).toEqual([
      "2018-01-01",
      "2019-01-01",
      "2020-01-01",
    ]);
  });

  it("takes the last day of a month that has no such day, and whole months of records", () => {
    const { edges, at } = originsOf("2016-01-20", "2019-03-30");
    expect(edges[0]).toBe("2016-01-31");
    expect(edges.slice(0, 3)).toEqual(["2016-01-31", "2016-02-29", "2016-03-31"]);
    // 38 months: origins 12 months before the end alone, 26 months after the beginning
    expect(at.map((place) => edges[place])).toEqual(["2018-03-31"]);
  });

  it("has none where records are under three years", () => {
    expect(originsOf("2016-01-01", "2018-12-30").at).toEqual([]);
    expect(originsOf("2016-01-01", "2018-12-31").at).toHaveLength(1);
    expect(originsOf("2016-01-01", "2015-06-30").at).toEqual([]);
  });
});

describe("withBacktest()", () => {
  it("counts what was used in the year after each origin, part by part", async () => {
    const { origins, apart, openings, parts, recordsFrom } = (await regular).backtest!;
    expect(recordsFrom).toBe("2016-01-01");
    expect(origins).toHaveLength(9);
    expect(origins[0]).toBe("2017-12-31");
    expect(apart).toEqual(["2017-12-31", "2018-12-31", "2019-12-31"]);
    // By hand: every window of a year has one January and one July of each of six frames
    expect(openings!.windows.map(({ origin, to, used, usedByNew }) => [origin, to, used, usedByNew])).toEqual(
      origins.map((origin) => [origin, `${Number(origin.slice(0, 4)) + 1}${origin.slice(4)}`, 12, 0]),
    );
    const used = Object.fromEntries(parts.map((part) => [part.part, part.used / 9]));
    expect(used).toEqual({ PAIR: 24, [SEALS]: 0, GASKET: 12, NUT: 0 });
  });

  it("sets plain rivals beside: last year's use is right where each year is like the last", async () => {
    const { openings, coverage, parts } = (await regular).backtest!;
    const last = openings!.rivals.find(({ name }) => name === "last year's use")!;
    expect(last).toMatchObject({ forecast: 12, ratio: 1 });
    // Poisson of mean 12 has its quantiles at .05, .1, .25, .5, .75, .9, .95, .99 at 7, 8, 10, 12, 14, 17, 18, 21 (R: qpois(p, 12)), so that
    // 12 loses .05 x 5 + .1 x 4 + .25 x 2 + 0 + .25 x 2 + .1 x 5 + .05 x 6 + .01 x 9 = 2.54 over eight quantiles
    expect(last.loss).toBeCloseTo(2.54 / 8, 12);
    const mean = openings!.rivals.find(({ name }) => name === "mean rate")!;
    // By hand: openings so far and half a one more, over the months so far, times 12
    const rates = [24.5 / 24, 30.5 / 27, 30.5 / 30, 36.5 / 33, 36.5 / 36, 42.5 / 39, 42.5 / 42, 48.5 / 45, 48.5 / 48];
    expect(mean.forecast).toBeCloseTo((12 * rates.reduce((sum, rate) => sum + rate, 0)) / 9, 9);
    expect(openings!.lives.ratio).toBeGreaterThan(0.85);
    expect(openings!.lives.ratio).toBeLessThan(1.15);
    // Of all parts that were used: seals and nuts never were
    const held = parts.flatMap(({ used, lives }) =>
      used > 0 ? [lives.coverage.map(({ plain }) => plain.estimate!)] : [],
    );
    expect(held).toHaveLength(2);
    expect(coverage.map(({ plain }) => plain)).toEqual([
      (held[0]![0]! + held[1]![0]!) / 2,
      (held[0]![1]! + held[1]![1]!) / 2,
    ]);
  });

  it("counts apart what units take that were not known at the origin, and nothing that comes after the window", async () => {
    const { openings, parts, warnings } = await backtest({
      cards: [
        ...REGULAR.cards!,
        ...["F7", "F8"].flatMap((unit) => ["2019-03-15", "2019-10-15"].map((on) => opened(unit, on, "B"))),
      ],
    });
    const of = (origin: string) => openings!.windows.find((window) => window.origin === origin)!;
    expect([of("2017-12-31").used, of("2017-12-31").usedByNew]).toEqual([12, 0]);
    // To 2019-03-31: two of March 2019; known from then on
    expect([of("2018-03-31").used, of("2018-03-31").usedByNew]).toEqual([12, 2]);
    expect([of("2018-12-31").used, of("2018-12-31").usedByNew]).toEqual([12, 4]);
    expect([of("2019-03-31").used, of("2019-03-31").usedByNew]).toEqual([14, 0]);
    expect([of("2019-12-31").used, of("2019-12-31").usedByNew]).toEqual([12, 0]);
    const nut = parts.find(({ part }) => part === "NUT")!;
    expect(nut.windows.map(({ used, usedByNew }) => used + usedByNew)).toEqual([0, 2, 2, 2, 4, 2, 2, 2, 0]);
    expect(warnings.join()).toContain("forecasts of only 3 separate years");
  });

  it("says for which parts a plain rival did better, in the sentence and in a warning of its own", async () => {
    const { answer, parts, warnings } = (await regular).backtest!;
    const beaten = parts.filter(({ rivals }) => rivals.some(({ better }) => better)).map(({ part }) => part);
    for (const { part, lives, rivals } of parts) {
      for (const { loss, better } of rivals) expect(better).toBe(loss < lives.loss);
      expect(warnings.some((warning) => warning.startsWith(`of ${part} past use alone`))).toBe(beaten.includes(part));
    }
    expect(beaten).not.toEqual([]);
    expect(answer).toMatch(
      /^In 9 past forecasts of a year, from 2017-12-31 to 2019-12-31, [\d.]+ frames opened a year were forecast and 12 came; of the use of parts in 3 separate years /,
    );
    for (const part of beaten) expect(answer).toContain(`for ${part}`);
  });

  it("begins the answer, and leaves the forecast as it is", async () => {
    const { answer, backtest: tested, horizon, openings } = await regular;
    expect(answer.startsWith(tested!.answer)).toBe(true);
    expect(answer).toContain("Over the next 6 months");
    expect([horizon, tested!.months]).toEqual([6, 12]);
    expect(openings.estimate).toBeGreaterThan(4);
  });

  it("says that records are too short, or that there are none, in place of a score", async () => {
    const short = await backtest(REGULAR, { asOf: "2018-06-30" });
    expect(short).toMatchObject({ origins: [], apart: [], openings: null, parts: [], coverage: [] });
    expect(short.answer).toBe(
      "No past forecast can be held against what was used: records from 2016-01-01 to 2018-06-30 are too short, two years come before the first forecast and 12 months after the last.",
    );
    const none = await backtest({ units: [{ unit: "F1", commissioned_on: "2016-01-01" }] });
    expect(none.recordsFrom).toBeNull();
    expect(none.answer).toBe("No past forecast can be held against what was used: no card with a date is on record.");
  });
});

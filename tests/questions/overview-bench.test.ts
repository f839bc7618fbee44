import { afterAll, beforeAll, expect, it } from "vitest";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";
import { fleetOverviews } from "./fleet-overviews.ts";

const card = (unit: string, removed_on: string, end_play_mm: number | null, reason = "planned") => ({
  unit,
  removed_on,
  built_on: removed_on,
  installed_on: removed_on,
  reason,
  end_play_mm,
  slots: { [DRIVE]: { fitted: true, condition: reason === "failure" ? "failed" : "serviceable" } },
});

// 3, 8 and 5 thou as built; B fails 30 days after it was built with 8, and no reading is taken then
const story: Story = {
  units: ["A", "B"].map((unit) => ({ unit, commissioned_on: "2015-01-01" })),
  cards: [
    card("A", "2016-02-01", 0.0762),
    card("B", "2016-05-01", 0.2032),
    card("B", "2016-05-31", null, "failure"),
    card("A", "2018-01-01", 0.127),
  ],
};

let store: Store;
let fleets: FleetOverview[];
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  const configuration = {
    ...configurationOf({}),
    clock: "days" as const,
    display: { length: "thou" as const, temperature: "F" as const },
    windows: { end_play: { low: 2, high: 7, unit: "thou" as const, source: "common practice" } },
  };
  fleets = await fleetOverviews(store.connection, configuration, { asOf: "2018-12-31", level: 0.95 });
});
afterAll(() => store.close());

it("has the bench of each fleet alone: readings against the window, and what comes back", () => {
  const [saltmere, ostrel] = fleets;
  const [group] = saltmere!.bench.groups;
  expect(saltmere!.bench.groups).toHaveLength(1);
  expect(group!.asBuilt).toMatchObject({ unit: "thou", readings: 3, below: 0, above: 1 });
  expect(group!.comebacks!.list.map(({ unit, days, endPlay, outside }) => ({ unit, days, endPlay, outside }))).toEqual([
    { unit: "B", days: 30, endPlay: 8, outside: true },
  ]);
  expect(ostrel!.bench.groups[0]!.basis.builds).toBe(0);
});

it("tells builds apart by month and by quarter", () => {
  const { splits } = fleets[0]!.bench.groups[0]!;
  const of = (by: string) => splits.filter((split) => split.by === by).map(({ value, builds }) => [value, builds]);
  expect(of("month")).toEqual([
    ["2016-02", 1],
    ["2016-05", 2],
    ["2018-01", 1],
  ]);
  expect(of("quarter")).toEqual([
    ["2016-Q1", 1],
    ["2016-Q2", 2],
    ["2018-Q1", 1],
  ]);
});

it("says both in the findings of the fleet, and nothing of a fleet without builds", () => {
  // Wilson's limits of 1 of 3: (1 + 1.9208 -+ 1.96 sqrt(1 x 2 / 3 + 0.9604)) / (3 + 3.8415) = 0.0615 and 0.7923
  expect(fleets[0]!.findings).toEqual([
    "1 of 3 as-built end plays lies outside the window of 2 to 7 thou (common practice): 33 % (6.1 to 79 %).",
    expect.stringMatching(/^Of 4 builds 1 came back for failure within 90 days: 25 % \(/),
  ]);
  expect(fleets[1]!.findings).toEqual([]);
});

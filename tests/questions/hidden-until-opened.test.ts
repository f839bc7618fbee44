import { afterAll, beforeAll, expect, it } from "vitest";
import { takeFleet } from "../../src/lives/one-fleet.ts";
import type { LifeGroup } from "../../src/questions/answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";
import { fleetOverviews } from "./fleet-overviews.ts";

const from = (unit: string, removed_on: string, reason: string) => ({
  unit,
  removed_on,
  reason,
  slots: { [DRIVE]: { fitted: true, condition: "failed" } },
});

// Each unit fails once, after 365 (two), 731 and 1096 days; the last is found when opened by plan.
const story: Story = {
  units: ["A", "B", "C", "D"].map((unit) => ({ unit, commissioned_on: "2015-01-01" })),
  cards: [
    from("A", "2016-01-01", "failure"),
    from("B", "2016-01-01", "failure"),
    from("C", "2017-01-01", "failure"),
    from("D", "2018-01-01", "planned"),
  ],
};

let store: Store;
let fleet: FleetOverview;
let group: LifeGroup;

beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  const configuration = { ...configurationOf({ hiddenUntilOpened: true }), clock: "days" as const };
  fleet = (await fleetOverviews(store.connection, configuration, { level: 0.95 }))[0]!;
  group = fleet.life.groups[0]!;
});

afterAll(() => store.close());

it("studies such a life as an interval", async () => {
  await takeFleet(store.connection, "saltmere");
  const studied = await rows(
    store.connection,
    "select unit, time_low, time_high from studied where status = 'failed' order by unit",
  );
  expect(studied).toEqual([
    { unit: "A", time_low: 365, time_high: 365 },
    { unit: "B", time_low: 365, time_high: 365 },
    { unit: "C", time_low: 731, time_high: 731 },
    { unit: "D", time_low: 0, time_high: 1096 },
  ]);
});

it("fits it as a failure somewhere before 1096 days: log of 1 - S(1096), not of the density there", () => {
  const [shape, scale] = [group.shape.estimate!, group.scale.estimate!];
  const hazard = (t: number) => (t / scale) ** shape;
  const density = (t: number) => Math.log(shape / scale) + (shape - 1) * Math.log(t / scale) - hazard(t);
  // Running lives go on to 2018-01-01, the latest record: A and B for 731 days, C for 365, D for none
  const byHand =
    2 * density(365) + density(731) + Math.log(1 - Math.exp(-hazard(1096))) - 2 * hazard(731) - hazard(365);
  expect(group.logLikelihood).toBeCloseTo(byHand, 9);
});

it("refuses curve and paper with the count, and names the fit", () => {
  expect(group).toMatchObject({ intervalCensored: 1, survival: [], survivalFrom: null, paper: [] });
  expect(group.warnings).toContainEqual(expect.stringMatching(/^1 of 4 failures is known.*Kaplan-Meier.*Weibull fit/));
});

it("starts the line at the first failure seen", () => {
  expect(group.line[0]!.time).toBeCloseTo(365, 9);
  expect(group.line.at(-1)!.time).toBeCloseTo(1096, 9);
});

it("tells the pages the age at which it was found", () => {
  const { time, ended } = fleet.lives[0]!;
  expect(Array.from(time)).toEqual([365, 365, 365, 731, 731, 731, 1096]);
  expect(ended).toEqual(["failed", "failed", "running", "failed", "running", "running", "failed"]);
});

import { afterAll, beforeAll, expect, it } from "vitest";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { configurationOf, type Story, tell } from "../lives/story.ts";
import { fleetOverviews } from "./fleet-overviews.ts";

const DAY = 86_400_000;
const day = (after: number) => new Date(Date.parse("2012-01-01") + after * DAY).toISOString().slice(0, 10);

/** Forty frames, each at a place of its own, back for failure every 700 to 1,400 days; the last of them every 75. */
const story: Story = {
  units: Array.from({ length: 40 }, (_, unit) => ({
    unit: `F${unit}`,
    commissioned_on: day(0),
    model: unit % 2 === 0 ? "M1" : "M2",
  })),
  cards: Array.from({ length: 40 }, (_, unit) =>
    Array.from({ length: unit === 39 ? 40 : 4 }, (_, build) => {
      const out = day(unit === 39 ? 75 * (build + 1) : (700 + ((unit * 37 + build * 211) % 700)) * (build + 1));
      return {
        unit: `F${unit}`,
        removed_on: out,
        installed_on: out,
        position: `P${unit}`,
        model: unit % 2 === 0 ? "M1" : "M2",
        reason: "failure",
        slots: {},
      };
    }),
  ).flat(),
};

let store: Store;
let fleet: FleetOverview;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  const configuration = { ...configurationOf({}), clock: "days" as const };
  fleet = (await fleetOverviews(store.connection, configuration, { asOf: "2020-12-31", level: 0.95 }))[0]!;
});
afterAll(() => store.close());

it("names the frame that comes back ten times as often, and has its dossier with every build", () => {
  const named = fleet.offenders.unit.entities.filter(({ verdict }) => verdict === "offender");
  expect(named.map(({ id }) => id)).toEqual(["F39"]);
  const [dossier] = fleet.dossiers;
  // 40 rebuilds, 41 builds with the one before the first card and the one that still runs
  expect(dossier).toMatchObject({ kind: "unit", id: "F39", models: ["M2"], buildsInAll: 41, neighbours: [] });
});

it("judges positions beside, and has the dossier of the one where that frame ran", () => {
  expect(fleet.offenders.position.by).toBe("position");
  expect(fleet.dossiers.map(({ kind, id }) => `${kind} ${id}`)).toEqual(["unit F39", "position P39"]);
});

it("sets the models beside each other", () => {
  expect(fleet.intervalsByGroup?.groups.map(({ by }) => by)).toEqual([
    { fleet: "saltmere", model: "M1" },
    { fleet: "saltmere", model: "M2" },
  ]);
  expect(fleet.intervalsByGroup?.differences).toHaveLength(1);
});

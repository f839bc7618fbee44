import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askLife } from "../../src/questions/life.ts";
import { plainLifeQuestion, type Source } from "../../src/questions/scope.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

const KEPT = { [DRIVE]: { fitted: true }, [SEALS]: { condition: "serviceable" } };

// The seals of F1 run on while the frame moves from P1 to P2; F2 moves to a place that its card doesn't name; F3 never moved.
const story: Story = {
  units: ["F1", "F2", "F3"].map((unit, at) => ({
    unit,
    commissioned_on: `201${5 + at}-01-01`,
    position: unit === "F3" ? "P3" : "P1",
    listed_on: "2020-01-01",
  })),
  cards: [
    {
      unit: "F1",
      removed_on: "2018-01-01",
      installed_on: "2018-01-11",
      position: "P2",
      reason: "planned",
      slots: KEPT,
    },
    { unit: "F2", removed_on: "2018-02-01", installed_on: "2018-02-11", reason: "planned", slots: KEPT },
  ],
};

const configuration = configurationOf({ slots: [DRIVE, SEALS] });

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  await deriveLives(store.connection, { configuration, asOf: "2020-01-01" });
  await runStep(store.connection, "40_studied_days");
});
afterAll(() => store.close());

/** The seals that still run, in groups made by these columns. */
async function running(...by: string[]) {
  const source: Source = { kind: "workspace", configuration, asOf: "2020-01-01", latestOn: "2020-01-01" };
  const scope = { fleet: "saltmere", slot: SEALS, by, clock: "days" as const, level: 0.95 };
  const { groups } = await askLife(store.connection, { ...plainLifeQuestion(scope), mission: [100] }, source);
  return groups.map((group) => ({
    by: group.by,
    running: group.conditional.map(({ id, unit, position }) => ({ id, unit, position })),
  }));
}

describe("lives still running", () => {
  const F1 = { id: "saltmere/F1/drive_end_seals/0", unit: "F1", position: "P2" };
  const F2 = { id: "saltmere/F2/drive_end_seals/0", unit: "F2", position: null };
  const F3 = { id: "saltmere/F3/drive_end_seals/0", unit: "F3", position: "P3" };

  it("stand where their unit was installed last, not where they began", async () => {
    expect(await running()).toMatchObject([{ running: [F1, F2, F3] }]);
  });

  it("are grouped by where they began all the same", async () => {
    expect(await running("position")).toMatchObject([
      { by: { position: "P1" }, running: [F1, F2] },
      { by: { position: "P3" }, running: [F3] },
    ]);
  });
});

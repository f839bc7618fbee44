import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { movedLives } from "../../src/questions/moved-lives.ts";
import { askOffenders } from "../../src/questions/offenders.ts";
import type { OffendersQuestion } from "../../src/questions/scope.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, SEALS, type Story, tell } from "../lives/story.ts";

const left = { fitted: false, condition: "serviceable" };
const failed = { fitted: true, condition: "failed" };

// F1: its seals go in at P1, stay in at the move to P2, and fail there, at the same site. F2: seals fail at P3, where they went in.
const story: Story = {
  units: [
    { unit: "F1", commissioned_on: "2015-01-01", position: "P1", site: "North" },
    { unit: "F2", commissioned_on: "2015-01-01", position: "P3", site: "North" },
  ],
  cards: [
    { removed_on: "2016-01-01", installed_on: "2016-01-02", position: "P2", slots: { [DRIVE]: failed, [SEALS]: left } },
    { removed_on: "2017-01-01", installed_on: "2017-01-02", position: "P1", slots: { [SEALS]: failed } },
    { unit: "F2", removed_on: "2016-01-01", installed_on: "2016-01-02", position: "P3", slots: { [SEALS]: failed } },
  ].map((card) => ({ ...card, site: "North", reason: "failure" })),
};

let store: Store;
const configuration = configurationOf({ slots: [DRIVE, SEALS] });
let derived: Awaited<ReturnType<typeof deriveLives>>;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  derived = await deriveLives(store.connection, { configuration, asOf: "2018-01-01" });
  await runStep(store.connection, "43_exposed_slot_days");
});
afterAll(() => store.close());

describe("movedLives()", () => {
  it("counts failures that came at another place than where the part was fitted", async () => {
    expect(await movedLives(store.connection, { kind: "position", slot: SEALS })).toEqual({ moved: 1, of: 2 });
    expect(await movedLives(store.connection, { kind: "position", slot: DRIVE })).toEqual({ moved: 0, of: 1 });
    expect(await movedLives(store.connection, { kind: "site", slot: SEALS })).toEqual({ moved: 0, of: 2 });
  });

  it("is said where positions are judged by one slot", async () => {
    const question: OffendersQuestion = { by: [], clock: "days", level: 0.95, kind: "position", slot: SEALS, seed: 1 };
    const source = { kind: "workspace", configuration, ...derived } as const;
    expect((await askOffenders(store.connection, question, source)).warnings.join("\n")).toContain(
      "counted, with all its time, at the position where it was fitted: 1 of 2 failures came at another",
    );
    const bySite = await askOffenders(store.connection, { ...question, kind: "site" }, source);
    expect(bySite.warnings.join("\n")).not.toContain("where it was fitted");
  });
});

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askOffenders } from "../../src/questions/offenders.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, type Story, tell } from "../lives/story.ts";

const moved = (unit: string, day: string, position: string) => ({
  ...{ unit, removed_on: day, installed_on: day, position, reason: "failure" },
  slots: {},
});

// A fails at P1 after 100 days and runs on at P2, B fails at P2 after 200 and runs on at P1, C runs at P1; a year is looked at.
const story: Story = {
  units: [
    { unit: "A", commissioned_on: "2015-01-01", position: "P1" },
    { unit: "B", commissioned_on: "2015-01-01", position: "P2" },
    { unit: "C", commissioned_on: "2015-01-01", position: "P1" },
  ],
  cards: [moved("A", "2015-04-11", "P2"), moved("B", "2015-07-20", "P1")],
};

let store: Store;
const configuration = configurationOf({});
let derived: Awaited<ReturnType<typeof deriveLives>>;
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  derived = await deriveLives(store.connection, { configuration, asOf: "2016-01-01" });
  await runStep(store.connection, "43_exposed_days");
});
afterAll(() => store.close());

async function expectedOf(kind: "unit" | "position"): Promise<Record<string, number>> {
  const answer = await askOffenders(
    store.connection,
    { by: [], clock: "days", level: 0.95, kind, seed: 1, fleet: "saltmere" },
    { kind: "workspace", configuration, ...derived },
  );
  return Object.fromEntries(answer.entities.map(({ id, expected }) => [id, expected]));
}

describe("what is expected where frames moved", () => {
  it("is what all other positions make expect, nothing of the position's own", async () => {
    // By hand. P1, by P2 alone: its one failure, at 200 days, has two at risk, and C runs through it: 1/2.
    // P2, by P1 alone: the failure at 100 days has A, B and C at risk; A and B run through it at P2: 2/3.
    const found = await expectedOf("position");
    expect(found["P1"]).toBeCloseTo(1 / 2, 12);
    expect(found["P2"]).toBeCloseTo(2 / 3, 12);
  });

  it("is what all other frames make expect, nothing of the frame's own", async () => {
    // By hand. A, by B and C: at 200 days two are at risk, and A runs through that at P2. B, by A and C: at 100 days A's two stretches and C
    // are at risk, and B runs through that twice. C, by A and B: at 100 four are at risk, at 200 A and B at P2.
    const found = await expectedOf("unit");
    expect(found["A"]).toBeCloseTo(1 / 2, 12);
    expect(found["B"]).toBeCloseTo(2 / 3, 12);
    expect(found["C"]).toBeCloseTo(1 / 4 + 1 / 2, 12);
  });
});

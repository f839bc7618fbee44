import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askOffenders, askOffendersByFleet } from "../../src/questions/offenders.ts";
import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import type { OffendersQuestion, Source } from "../../src/questions/scope.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";

const failed = (unit: string, day: string, more: Record<string, string> = {}) => ({
  unit,
  removed_on: day,
  installed_on: day,
  reason: "failure",
  slots: { [DRIVE]: { fitted: true, condition: "failed" } },
  ...more,
});

// A fails after 365 and 366 days, B is retired after 547, C fails after 182; all others are followed to the as-of date.
const story: Story = {
  units: [
    ...["A", "B", "C"].map((unit) => ({ unit, commissioned_on: "2015-01-01" })),
    { unit: "E", commissioned_on: "2015-01-01" },
    { unit: "E", fleet: "ostrel", commissioned_on: "2016-01-01" },
  ],
  cards: [
    failed("A", "2016-01-01"),
    failed("A", "2017-01-01"),
    failed("C", "2015-07-02"),
    // A frame of which nothing is known before its first card, and one that says nothing of failure.
    failed("D", "2016-06-01"),
    { ...failed("D", "2016-06-01", { card: "again" }), reason: "unknown", slots: {} },
    failed("E", "2016-03-01", { fleet: "ostrel", card: "moved" }),
  ],
  retirements: [
    { unit: "B", retired_on: "2016-07-01" },
    { unit: "E", retired_on: "2015-12-31" },
  ],
};

let store: Store;
let source: Source;
let answer: OffendersAnswer;
const question: Omit<OffendersQuestion, "fleet"> = { by: [], clock: "days", level: 0.95, kind: "unit", seed: 1 };
beforeAll(async () => {
  store = await openMemory();
  await tell(store.connection, story);
  const configuration = configurationOf({});
  const derived = await deriveLives(store.connection, { configuration, asOf: "2018-01-01" });
  await runStep(store.connection, "43_exposed_days");
  source = { kind: "workspace", configuration, ...derived };
  answer = await askOffenders(store.connection, { ...question, fleet: "saltmere" }, source);
});
afterAll(() => store.close());

const entity = (id: string) => answer.entities.find((one) => one.id === id)!;

describe("askOffenders", () => {
  it("expects of each what all others' failures by age since the rebuild make expect of it", () => {
    // By hand, failures before removals, D at risk from its card on (579 days), E for 364 days without failing:
    // A of others: at 182 days B, C, C, D and E are at risk, 1/5; it runs through that three times, and no other fails elsewhere
    expect(entity("A")).toMatchObject({ events: 2, exposure: 1096 });
    expect(entity("A").expected).toBeCloseTo(3 / 5, 12);
    // B, retired at 547 days: 182: A three times, C twice, D, E, 1/7; 365: A three times, C, D, 1/5; 366: A, C, D, 1/3
    expect(entity("B")).toMatchObject({ events: 0, exposure: 547, planned: 0 });
    expect(entity("B").expected).toBeCloseTo(1 / 7 + 1 / 5 + 1 / 3, 12);
    // C: its own failure at 182 does not count; its second stretch runs through 365 (A, A, A, B, D) and 366 (A, B, D)
    expect(entity("C").expected).toBeCloseTo(1 / 5 + 1 / 3, 12);
  });

  it("takes a unit that went to another fleet as one of each, by what it did there", async () => {
    expect(entity("E")).toMatchObject({ fleet: "saltmere", events: 0, exposure: 364 });
    const ostrel = await askOffenders(store.connection, { ...question, fleet: "ostrel" }, source);
    expect(ostrel.entities).toMatchObject([{ fleet: "ostrel", id: "E", events: 0, verdict: "within chance" }]);
    expect(ostrel.answer).not.toMatch(/NaN|undefined|null/);
  });

  it("counts what it can't use by the reason", () => {
    // What was in D before its first card is of no known age, and two cards of one day leave no length between them.
    expect(answer.basis.leftOut).toEqual({ zero_or_negative_length: 1 });
    expect(answer.basis).toMatchObject({ failed: 3 });
    // The failure of A at 366 days has others at risk, as those at 182 and 365 have: all three are judged, and one more is on record.
    expect(answer.answer).toContain(", from 3 failures that can be judged; ");
  });

  it("says the same of each fleet when all are asked of at once", async () => {
    const all = await askOffendersByFleet(store.connection, question, source);
    expect([...all.keys()]).toEqual(["saltmere", "ostrel"]);
    expect(all.get("saltmere")).toEqual(answer);
  });

  it("judges positions that are not on record of none", async () => {
    const positions = await askOffenders(
      store.connection,
      { ...question, fleet: "saltmere", kind: "position" },
      source,
    );
    expect(positions.entities).toEqual([]);
    expect(positions.answer).toBe("No position meets the question: widen --fleet, --slot, --where or --as-of.");
    expect(positions.basis.leftOut["no_position"]).toBeGreaterThan(0);
  });
});

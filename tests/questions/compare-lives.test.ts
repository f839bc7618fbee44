import { expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { comparedLives } from "../../src/questions/compare-lives.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { runStep } from "../../src/store/run-step.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";

const story: Story = {
  units: [
    { unit: "A", last_rebuilt_on: "2006-01-01" },
    { unit: "B", commissioned_on: "2018-01-01" },
  ],
  cards: ["A", "B"].map((unit) => ({
    unit,
    removed_on: "2020-01-01",
    reason: "failure",
    slots: { [DRIVE]: { fitted: true, condition: "failed" } },
  })),
};

it.each([
  // by hand: 2016-01-01 to 2020-01-01 is 4 * 365 + 1 days; from 2006-01-01, 14 * 365 + 3
  { recordsBegin: "2016-01-01", watchedDays: 1461 },
  { recordsBegin: "2001-01-01", watchedDays: 5113 },
])("watches lives from the day failures could be on record: records since $recordsBegin", async (expected) => {
  const store = await openMemory();
  try {
    await tell(store.connection, story);
    const configuration = configurationOf({ recordsBegin: expected.recordsBegin });
    await deriveLives(store.connection, { configuration, asOf: "2020-01-01" });
    await runStep(store.connection, "40_studied_days");
    const scope = { by: [], clock: "days" as const, level: 0.95 };
    const wanted = { effect: "lube", wanted: [], usual: [], strata: [] };
    const { watchedDays } = await comparedLives(store.connection, scope, wanted);
    expect(watchedDays).toBe(expected.watchedDays);
  } finally {
    store.close();
  }
});

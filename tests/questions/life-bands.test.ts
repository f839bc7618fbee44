import { describe, expect, it } from "vitest";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askLife } from "../../src/questions/life.ts";
import { plainLifeQuestion } from "../../src/questions/scope.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { runStep } from "../../src/store/run-step.ts";
import type { Configuration } from "../../src/workspace/configuration.ts";
import { configurationOf, DRIVE, tell } from "../lives/story.ts";

const THOU = 0.0254;
const fitted = { [DRIVE]: { fitted: true } };
const cards = [3, 4, 6].map((play, at) => ({
  unit: `F${at + 1}`,
  installed_on: "2020-01-01",
  built_on: "2019-12-20",
  end_play_mm: play * THOU,
  slots: fitted,
}));

async function warningsBy(by: string, display: Configuration["display"]): Promise<string[]> {
  const store = await openMemory();
  try {
    await tell(store.connection, { cards });
    const configuration = { ...configurationOf({ bands: [2, 3.5, 7] }), display };
    const derived = await deriveLives(store.connection, { configuration, asOf: "2021-01-01" });
    await runStep(store.connection, "40_studied_days");
    const question = plainLifeQuestion({ slot: DRIVE, by: [by], clock: "days", level: 0.95 });
    const answer = await askLife(store.connection, question, { kind: "workspace", configuration, ...derived });
    return answer.warnings.filter((warning) => warning.includes("edges"));
  } finally {
    store.close();
  }
}

describe("askLife(): by band of end play", () => {
  it("asks for the unit of edges between which no life lies", async () => {
    expect(await warningsBy("end_play_band", { length: "mm", temperature: "C" })).toEqual([
      expect.stringContaining("3 of 3 lives lie under 2 mm; are the edges meant in mm?"),
    ]);
  });

  it("says nothing where some lie between, or where bands are not asked of", async () => {
    expect(await warningsBy("end_play_band", { length: "thou", temperature: "C" })).toEqual([]);
    expect(await warningsBy("unit", { length: "mm", temperature: "C" })).toEqual([]);
  });
});

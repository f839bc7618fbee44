import { readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openMemory } from "../../../src/store/open-memory.ts";
import { rows } from "../../../src/store/rows.ts";
import { runStep } from "../../../src/store/run-step.ts";
import { packageFile } from "../../../src/workspace/package-file.ts";

const VALUES = {
  as_of: "2020-01-01",
  fleet: null,
  fleets: '["saltmere"]',
  slots: '["drive_end_bearings"]',
  band_edges: "[2, 3]",
  mm_per_length: 0.0254,
  fahrenheit: false,
  worn_is_failed: false,
  hidden_until_opened: false,
  rollover_at: 100_000,
  rows: '[{"file_id": 1, "row": 2}]',
  id: "saltmere/F1",
  unit: "F1",
};

function stepsOf(pattern: RegExp): string[] {
  return readdirSync(packageFile("pipelines/sql"))
    .filter((file) => pattern.test(file))
    .toSorted()
    .map((file) => file.replace(".sql", ""));
}

describe("steps of audit and trace", () => {
  it("run on empty records, twice over, and find nothing but that there are no lists and rounds", async () => {
    const store = await openMemory();
    const fleets = '[{"name": "saltmere"}]';
    for (const step of stepsOf(/^3\d_/)) await runStep(store.connection, step, { ...VALUES, fleets });
    await runStep(store.connection, "40_studied_hours");
    const steps = stepsOf(/^5[0-7]_/);
    expect(steps.length).toBe(9);
    for (const step of [...steps, ...steps]) await runStep(store.connection, step, VALUES);
    for (const table of [
      "noted",
      "audited",
      "completeness",
      "traceable",
      "traced",
      "other_row",
      "unit_record",
      "part_record",
      "story",
    ]) {
      expect(await rows(store.connection, `select count(*)::integer as n from ${table}`), table).toEqual([{ n: 0 }]);
    }
    expect(await rows(store.connection, "select gap, fleet from gap order by gap")).toEqual([
      { gap: "no_list", fleet: "saltmere" },
      { gap: "no_rounds", fleet: "saltmere" },
    ]);
    store.close();
  });
});

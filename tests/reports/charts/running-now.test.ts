import { describe, expect, it } from "vitest";
import { MOST_RUNNING, type RunningRow, runningNow } from "../../../reports/charts/running-now.ts";
import { conditionalOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

function rowsOf(count: number): RunningRow[] {
  return conditionalOf(count)
    .toSorted((a, b) => (a.estimate ?? 0) - (b.estimate ?? 0))
    .map(({ unit, age, estimate, low, high }) => ({
      label: unit ?? "",
      unit,
      position: null,
      age: `${age} h`,
      estimate: estimate ?? 0,
      low,
      high,
    }));
}

const FRAME = { title: "Drive-end bearings", chanceOf: "Chance to run another 2,000 h unfailed", level: 0.95 };

describe("runningNow()", () => {
  it("lists each life with its age, in the order given", async () => {
    const rows = rowsOf(4);
    const words = wordsOf(await draw(runningNow({ ...FRAME, rows })));
    expect(words.filter((word) => word.startsWith("QF-"))).toEqual(rows.map(({ label, age }) => `${label}, ${age}`));
    expect(words).toEqual(expect.arrayContaining([FRAME.chanceOf, "0%", "100%"]));
  });

  it("draws the first 25 of many", async () => {
    const spec = runningNow({ ...FRAME, rows: rowsOf(5000) });
    expect(marksOf(spec)).toBe(2 * MOST_RUNNING);
    expect(spec.description).toContain("25 of 5000 running lives");
  });

  it("keeps lives of one label apart", async () => {
    const row = { label: "QF-001", unit: "QF-001", position: null, age: "3,000 h", estimate: 0.7, low: 0.5, high: 0.9 };
    const words = wordsOf(await draw(runningNow({ ...FRAME, rows: [row, row] })));
    expect(words.filter((word) => word === "QF-001, 3,000 h")).toHaveLength(2);
  });

  it("draws lives without limits, and names that are code", async () => {
    const hostile = `</text><script>alert("1")</script>\\`;
    const svg = await draw(
      runningNow({
        ...FRAME,
        rows: [{ label: hostile, unit: hostile, position: hostile, age: "1 h", estimate: 0.5, low: null, high: null }],
      }),
    );
    expect(svg).not.toMatch(/NaN|undefined|Infinity|<script/);
  });
});

import { describe, expect, it } from "vitest";
import { type SurvivalRows, survivalCurve } from "../../../reports/charts/survival-curve.ts";
import { BEARING_LIVES, lifeGroupOf, spreadLives } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

function rowsOf(more: Partial<SurvivalRows> = {}): SurvivalRows {
  return {
    title: "Drive-end bearings",
    timeTitle: "Running hours",
    level: 0.95,
    ages: [0, 5000, 10_000, 15_000, 20_000],
    atRisk: [35, 19, 7, 1, 0],
    steps: lifeGroupOf("x", BEARING_LIVES, null).survival,
    unfailed: BEARING_LIVES.filter(({ ended }) => ended !== "failed").map(({ time }) => time),
    from: 0,
    fewFrom: 10_584,
    end: 17_340,
    others: [],
    ...more,
  };
}

describe("survivalCurve()", () => {
  it("puts the numbers at risk under the ages they belong to", async () => {
    const words = wordsOf(await draw(survivalCurve(rowsOf({ atRisk: [35, 19, 8, 1, 0] }))));
    expect(words).toEqual(
      expect.arrayContaining(["Still running", "Running hours", "at risk", "35", "19", "8", "1", "0", "15,000"]),
    );
  });

  it("shows no number beyond the first age that no life reaches", async () => {
    const words = wordsOf(await draw(survivalCurve(rowsOf({ atRisk: [35, 19, 0, 0, 0] }))));
    expect(words.filter((word) => word === "0")).toHaveLength(2); // the age 0 and the number at 10,000
  });

  it("is broken where fewer than 5 are at risk", async () => {
    expect(await draw(survivalCurve(rowsOf()))).toContain('stroke-dasharray="3,3"');
    expect(await draw(survivalCurve(rowsOf({ fewFrom: 17_340 })))).not.toContain('stroke-dasharray="3,3"');
  });

  it("runs level to the longest life where nothing failed", async () => {
    const svg = await draw(
      survivalCurve(
        rowsOf({ steps: [], end: 8000, others: [{ title: "Seals", steps: rowsOf().steps, from: 0, end: 17_340 }] }),
      ),
    );
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(wordsOf(svg)).toContain("100%");
  });

  it("starts at the age where enough lives are under observation", () => {
    const { layer } = survivalCurve(rowsOf({ from: 1500 })) as unknown as {
      layer: { mark: { type: string }; data: { values: { time: number }[] } }[];
    };
    expect(layer.find(({ mark }) => mark.type === "line")?.data.values[0]).toMatchObject({ time: 1500, estimate: 1 });
  });

  it("stays within 2,000 marks for 5,000 lives beside four other slots", () => {
    const lives = spreadLives(5000, 1.4, 9000);
    const { survival } = lifeGroupOf("x", lives, null);
    const others = ["a", "b", "c", "d"].map((title) => ({ title, steps: survival, from: 0, end: 30_000 }));
    const unfailed = lives.filter(({ ended }) => ended !== "failed").map(({ time }) => time);
    expect(marksOf(survivalCurve(rowsOf({ steps: survival, unfailed, others })))).toBeLessThanOrEqual(2000);
  });
});

import { describe, expect, it } from "vitest";
import { cumulativeIncidence, type IncidenceRows } from "../../../reports/charts/cumulative-incidence.ts";
import { BEARING_LIVES, modesOf, spreadLives } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const NAMES = ["overload deformation", "fatigue", "wear", "dents", "rust", "current", "fracture", "heat"];

function rowsOf(lives = BEARING_LIVES, names = NAMES.slice(0, 3)): IncidenceRows {
  return {
    title: "Drive-end bearings",
    timeTitle: "Running hours",
    level: 0.95,
    modes: modesOf(lives, names).modes.map(({ mode, incidence }) => ({ name: mode, steps: incidence })),
    end: 17_340,
    fewFrom: 17_340,
  };
}

describe("cumulativeIncidence()", () => {
  it("names each curve at its end with the share that it comes to", async () => {
    const rows = rowsOf();
    const words = wordsOf(await draw(cumulativeIncidence(rows)));
    for (const { name, steps } of rows.modes) {
      const share = Number((100 * (steps.at(-1)?.estimate ?? 0)).toPrecision(2));
      expect(words).toContain(`${name} ${share} %`);
    }
    expect(words).toEqual(expect.arrayContaining(["Share of lives ended", "Running hours", "15,000"]));
  });

  it("tells curves apart without colour", async () => {
    const { layer } = cumulativeIncidence(rowsOf(BEARING_LIVES, NAMES)) as unknown as {
      layer: { mark: { type: string; strokeDash?: number[]; strokeWidth?: number } }[];
    };
    const lines = layer
      .filter(({ mark }) => mark.type === "line")
      .map(({ mark }) => JSON.stringify([mark.strokeDash, mark.strokeWidth]));
    expect(lines).toHaveLength(6);
    expect(new Set(lines).size).toBe(6);
  });

  it("is pale beyond the age where few are at risk, and runs on from there", () => {
    const steps = [100, 900].map((time) => ({ time, estimate: time / 1000, low: null, high: null }));
    const rows = { ...rowsOf(), modes: [{ name: "rust", steps }], end: 1000, fewFrom: 500 };
    const { layer } = cumulativeIncidence(rows) as unknown as {
      layer: {
        mark: { type: string };
        data: { values: { time: number; estimate: number }[] };
        encoding: { opacity: { condition: { value: number } } };
      }[];
    };
    const parts = layer
      .filter(({ mark }) => mark.type === "line")
      .map(({ data, encoding }) => ({
        opacity: encoding.opacity.condition.value,
        corners: data.values.map(({ time, estimate }) => [time, estimate]),
      }));
    expect(parts).toEqual([
      {
        opacity: 1,
        corners: [
          [0, 0],
          [100, 0.1],
          [500, 0.1],
        ],
      },
      {
        opacity: 0.35,
        corners: [
          [500, 0.1],
          [900, 0.9],
          [1000, 0.9],
        ],
      },
    ]);
  });

  it("draws a mode without a failure level at nought", async () => {
    const svg = await draw(cumulativeIncidence({ ...rowsOf(), modes: [{ name: "rust", steps: [] }] }));
    expect(wordsOf(svg)).toContain("rust 0 %");
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("escapes what a name may hold", async () => {
    const hostile = "</text><script>alert(1)</script>";
    const svg = await draw(cumulativeIncidence({ ...rowsOf(), modes: [{ name: hostile, steps: [] }] }));
    expect(svg).not.toContain("<script");
  });

  it("stays within 2,000 marks for 20,000 lives of eight modes", () => {
    const rows = { ...rowsOf(spreadLives(20_000, 1.4, 9000), NAMES), fewFrom: 9000 };
    expect(marksOf(cumulativeIncidence(rows))).toBeLessThanOrEqual(2000);
  });
});

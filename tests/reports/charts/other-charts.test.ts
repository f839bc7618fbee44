import { describe, expect, it } from "vitest";
import { lifeLimits } from "../../../reports/charts/life-limits.ts";
import { meanCount } from "../../../reports/charts/mean-count.ts";
import { unitTimeline } from "../../../reports/charts/unit-timeline.ts";
import { meanCountOf, timelineOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

describe("meanCount()", () => {
  const rows = { title: "All units", timeTitle: "Running hours", level: 0.95 };

  it("shows rebuilds a unit against age, with the units watched under it", async () => {
    const words = wordsOf(await draw(meanCount({ ...rows, steps: meanCountOf(80, 250) })));
    expect(words).toEqual(expect.arrayContaining(["Rebuilds a unit", "Running hours", "units", "20,000"]));
  });

  it("draws a single step, and steps without limits", async () => {
    const [step] = meanCountOf(1, 500);
    const svg = await draw(meanCount({ ...rows, steps: [{ ...step!, low: null, high: null }] }));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("stays within 2,000 marks for 200,000 steps", () => {
    expect(marksOf(meanCount({ ...rows, steps: meanCountOf(200_000, 1) }))).toBeLessThanOrEqual(2000);
  });
});

describe("unitTimeline()", () => {
  it("names each unit and each reason, and tells the reasons apart by shape", async () => {
    const rows = timelineOf(8);
    const svg = await draw(unitTimeline(rows, "Saltmere"));
    expect(wordsOf(svg)).toEqual(
      expect.arrayContaining(["QF-001", "QF-008", "failure", "planned", "reason unknown", "2020"]),
    );
    const { layer } = unitTimeline(rows, "Saltmere") as unknown as { layer: { mark: { shape?: string } }[] };
    const shapes = layer.flatMap(({ mark }) => mark.shape ?? []);
    expect(new Set(shapes).size).toBe(3);
  });

  it("escapes what a name may hold", async () => {
    const hostile = "</text><script>alert(1)</script>";
    const svg = await draw(
      unitTimeline(
        timelineOf(2, (index) => `${hostile}${index}`),
        hostile,
      ),
    );
    expect(svg).not.toContain("<script");
  });
});

describe("lifeLimits()", () => {
  const options = { level: 0.95, timeTitle: "Running hours", title: "Saltmere" };
  const estimate = (value: number) => ({ estimate: value, low: 0.8 * value, high: 1.3 * value });

  it("writes the figures at their marks, and a label of two lines as two", async () => {
    const svg = await draw(
      lifeLimits(
        [{ label: "Drive-end bearings\nOstrel quarry", l10: estimate(3360), median: estimate(8230) }],
        options,
      ),
    );
    expect(svg).toContain("L10 3,360");
    expect(svg).toContain("median 8,230");
    expect(svg).toMatch(/<tspan[^>]*>Drive-end bearings<\/tspan><tspan[^>]*>Ostrel quarry<\/tspan>/);
  });

  it("draws intervals with an open end, and leaves out slots without an L10", async () => {
    const rows = [
      {
        label: "Seals",
        l10: { estimate: 900, low: null, high: null },
        median: { estimate: 1e9, low: 3000, high: null },
      },
      { label: "Sleeve", l10: { estimate: null, low: null, high: null, reason: "no failure" }, median: estimate(1) },
    ];
    const svg = await draw(lifeLimits(rows, options));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(wordsOf(svg)).not.toContain("Sleeve");
  });
});

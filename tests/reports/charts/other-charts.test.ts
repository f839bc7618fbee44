import { describe, expect, it } from "vitest";
import { endPlayBins } from "../../../reports/charts/end-play-bins.ts";
import { endPlayHistogram } from "../../../reports/charts/end-play-histogram.ts";
import { lifeLimits } from "../../../reports/charts/life-limits.ts";
import { meanCount } from "../../../reports/charts/mean-count.ts";
import { unitTimeline } from "../../../reports/charts/unit-timeline.ts";
import { endPlayOf, meanCountOf, timelineOf } from "../fixtures.ts";
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

  it("stays within 2,000 marks for 20,000 steps", () => {
    expect(marksOf(meanCount({ ...rows, steps: meanCountOf(20_000, 1) }))).toBeLessThanOrEqual(2000);
  });
});

describe("unitTimeline()", () => {
  it("names each unit and each reason, and tells the reasons apart by shape", async () => {
    const rows = timelineOf(8);
    const svg = await draw(unitTimeline(rows, "Saltmere"));
    expect(wordsOf(svg)).toEqual(
      expect.arrayContaining(["QF-001", "QF-008", "failure", "planned", "reason unknown", "2020"]),
    );
    const { layer } = unitTimeline(rows, "Saltmere") as unknown as {
      layer: { encoding: { shape?: { scale: { range: string[] } } } }[];
    };
    const shapes = layer.flatMap(({ encoding }) => encoding.shape?.scale.range ?? []);
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

describe("endPlayHistogram()", () => {
  const { values, unit } = endPlayOf(120);

  it("draws the window's edges and says whose window it is", async () => {
    const window = { low: 2, high: 7, words: "2 to 7 thou", source: "common practice" };
    const svg = await draw(endPlayHistogram({ title: "Saltmere", unit, bins: endPlayBins(endPlayOf(120)), window }));
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["End play as built (thou)", "Builds"]));
    expect(svg).toMatch(/>window 2 to 7 thou<.*>common practice</);
    expect(svg.match(/stroke-dasharray="5,3"/g)).toHaveLength(2);
  });

  it("draws no edge where there is no window", async () => {
    const svg = await draw(
      endPlayHistogram({ title: "Saltmere", unit, bins: endPlayBins({ values, unit, window: null }), window: null }),
    );
    expect(svg).not.toContain("stroke-dasharray");
    expect(wordsOf(svg).join(" ")).not.toContain("window");
  });
});

describe("endPlayBins()", () => {
  const reading = (value: number) => ({ value, builtOn: null, model: null });
  const window = { low: 2, high: 7, unit: "thou", source: "by hand" } as const;

  it("takes a reading on an edge as inside, and counts every reading once (by hand)", () => {
    const bins = endPlayBins({ unit: "thou", window, values: [2, 7, 1.99, 7.01, 4.5].map(reading) });
    expect(bins).toEqual([
      { from: 1.75, to: 2.25, inside: 1, outside: 1 },
      { from: 4.25, to: 4.75, inside: 1, outside: 0 },
      { from: 6.75, to: 7.25, inside: 1, outside: 1 },
    ]);
  });

  it("centres bars of a whole unit on readings taken in whole units (by hand)", () => {
    const bins = endPlayBins({ unit: "thou", window, values: [1, 2, 2, 5, 7, 8].map(reading) });
    expect(bins.map(({ from, to, inside, outside }) => [from, to, inside, outside])).toEqual([
      [0.5, 1.5, 0, 1],
      [1.5, 2.5, 2, 0],
      [4.5, 5.5, 1, 0],
      [6.5, 7.5, 1, 0],
      [7.5, 8.5, 0, 1],
    ]);
  });

  it("brings a window stated in another unit to that of the readings (0.0508 mm is 2 thou: NIST SP 811, appendix B)", () => {
    const inMm = { low: 0.0508, high: 0.1778, unit: "mm", source: "by hand" } as const;
    const bins = endPlayBins({ unit: "thou", window: inMm, values: [2, 7, 8].map(reading) });
    expect(bins.map(({ inside, outside }) => [inside, outside])).toEqual([
      [1, 0],
      [1, 0],
      [0, 1],
    ]);
  });

  it.each([
    { name: "none", values: [], bars: 0 },
    { name: "one", values: [4], bars: 1 },
    { name: "all the same", values: [5, 5, 5], bars: 1 },
    { name: "all nought", values: [0, 0], bars: 1 },
  ])("makes $bars bars of $name without a window", ({ values, bars }) => {
    expect(endPlayBins({ unit: "mm", window: null, values: values.map(reading) })).toHaveLength(bars);
  });

  it("widens the bars for a reading far out, at most about 60 of them", () => {
    const bins = endPlayBins({
      unit: "thou",
      window,
      values: [...Array.from({ length: 500 }, (_, index) => 2 + index / 100), 500].map(reading),
    });
    expect(bins.length).toBeLessThanOrEqual(62);
    expect(bins.reduce((sum, { inside, outside }) => sum + inside + outside, 0)).toBe(501);
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

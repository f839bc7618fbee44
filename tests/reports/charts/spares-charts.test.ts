import { describe, expect, it } from "vitest";
import { forecastAgainstUse } from "../../../reports/charts/forecast-against-use.ts";
import { plannedAgeCost } from "../../../reports/charts/planned-age-cost.ts";
import { dotsOf, stockRisk } from "../../../reports/charts/stock-risk.ts";
import { useFan } from "../../../reports/charts/use-fan.ts";
import { backtestOf, plannedAgeOf, sparesPartOf } from "../spares-fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const rects = (svg: string) => svg.match(/class="mark-rect[^"]*"/g)!.length;

describe("useFan()", () => {
  const fan = (more = {}) => useFan({ ...sparesPartOf("QB-31", 60, more), level: 0.95, ticks: [0, 20, 40, 60, 80] });

  it("draws two ranges and a median for each month, and the rate of past use", async () => {
    const svg = await draw(fan());
    expect(rects(svg)).toBe(2);
    // 12 months in two ranges and a median, and the two ends of the line
    expect(marksOf(fan())).toBe(3 * 12 + 2);
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["2024-09", "2025-06", "80"]));
    expect(svg).toContain("QB-31: pieces used over the next 12 months");
  });

  it("goes without a past, over one month, and where nothing is used", async () => {
    await draw(fan({ past: null }));
    const { byMonth } = sparesPartOf("QB-31", 60);
    expect(marksOf(fan({ past: null, byMonth: byMonth.slice(0, 1) }))).toBe(3);
    await draw(fan({ byMonth: byMonth.slice(0, 1) }));
    const { byMonth: none } = sparesPartOf("QB-31", 0);
    await draw(useFan({ part: "QB-31", byMonth: none, past: null, level: 0.95, ticks: [0, 1] }));
  });
});

describe("stockRisk()", () => {
  const risk = (more = {}) => stockRisk({ ...sparesPartOf("QB-31", 60, more), service: 0.95 });

  it("draws a dot for each stock from the last that is sure to run short to the last of at least 1 in 200", async () => {
    // By hand: (2/3)^(s - 10) is 1 at 10, 0.00514 at 23 and 0.00343 at 24
    const dots = dotsOf(sparesPartOf("QB-31", 60).stockOutRisk);
    expect([dots[0]!.stock, dots.at(-1)!.stock, dots.length]).toEqual([10, 23, 14]);
    const svg = await draw(risk());
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["have 13", "hold 18", "1 in 20", "certain"]));
  });

  it("tells a stock beyond the axis at its edge", async () => {
    expect(wordsOf(await draw(risk({ position: 695 })))).toContain("have 695 ⟶");
    expect(wordsOf(await draw(risk({ position: -3 })))).toContain("⟵ have -3");
  });

  it("thins long curves to 40 dots at most and keeps their first", () => {
    const stockOutRisk = Array.from({ length: 900 }, (_, stock) => ({ stock, risk: Math.exp(-stock / 150) }));
    const dots = dotsOf(stockOutRisk);
    expect(dots.length).toBeLessThanOrEqual(40);
    expect(dots.length).toBeGreaterThan(30);
    expect(new Set(dots.slice(1).map(({ stock }, at) => stock - dots[at]!.stock)).size).toBe(1);
  });

  it("goes without a stock, and with one dot", async () => {
    const words = wordsOf(await draw(risk({ position: null })));
    expect(words.filter((word) => word.startsWith("have"))).toEqual([]);
    await draw(risk({ stockOutRisk: [{ stock: 0, risk: 0.3 }], reorderPoint: 1, position: 0 }));
  });
});

describe("plannedAgeCost()", () => {
  it("draws the cost, its least with limits, and what waiting costs", async () => {
    const chart = plannedAgeCost({
      ...plannedAgeOf("shaft_sleeve"),
      title: "Shaft sleeve",
      unit: " h",
      currency: "EUR",
    });
    // By hand: 0.4 (1 + 1) = 0.8 an hour at 6,000 h, 800 for 1,000 h; waiting costs 800 / (1 - 0.2) = 1,000
    expect(chart.description).toBe(
      "Shaft sleeve: cost of running by planned age; least at 6,000 h, 800 for 1,000 h, where waiting for failures costs 1,000.",
    );
    await draw(chart);
  });

  it("leaves out limits that are not known", async () => {
    await draw(
      plannedAgeCost({ ...plannedAgeOf("frame", { bestAge: null }), title: "Frame", unit: " days", currency: null }),
    );
  });
});

describe("forecastAgainstUse()", () => {
  it("draws each forecast with two ranges and a mean, and what came once", async () => {
    const { windows } = backtestOf().openings!;
    const chart = forecastAgainstUse({ windows, months: 12 });
    expect(marksOf(chart)).toBe(4 * windows.length);
    const svg = await draw(chart);
    expect(rects(svg)).toBe(2);
    expect(svg).toContain(`2021-12-31 58, came ${windows.at(-1)!.used}`);
  });
});

import { describe, expect, it } from "vitest";
import { type Built, comebacksByBuilt } from "../../../reports/charts/comebacks-by-built.ts";
import { dayTicks } from "../../../reports/charts/day-ticks.ts";
import { endPlayHistogram } from "../../../reports/charts/end-play-histogram.ts";
import { endPlayInOrder } from "../../../reports/charts/end-play-in-order.ts";
import type { BenchChart } from "../../../src/questions/bench-answer.ts";
import { asBuiltOf, shareOf } from "../bench-fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const HOSTILE = "</text><script>alert(1)</script>";

describe("endPlayHistogram()", () => {
  const { histogram: bins } = asBuiltOf(120);
  const window = { low: 2, high: 7, words: ["2 to 7 thou", "common practice"] };
  const rows = { title: "Saltmere", unit: "thou", bins, window, usual: null, height: 200 };

  it("draws the window's edges and says whose window it is", async () => {
    const svg = await draw(endPlayHistogram(rows));
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["End play as built (thou)", "Builds"]));
    expect(svg).toMatch(/>window 2 to 7 thou<.*>common practice</);
    expect(svg.match(/stroke-dasharray="5,3"/g)).toHaveLength(2);
  });

  it("draws no edge where there is no window", async () => {
    const svg = await draw(endPlayHistogram({ ...rows, window: null }));
    expect(svg).not.toContain("stroke-dasharray");
    expect(wordsOf(svg).join(" ")).not.toContain("window");
  });

  it("draws what is usual another way than the window: a strip, no broken line, in words of its own", async () => {
    const usual = { low: -0.95, high: 9.62 };
    const spec = endPlayHistogram({ ...rows, window: null, usual });
    const svg = await draw(spec);
    expect(svg).not.toContain("stroke-dasharray");
    expect(wordsOf(svg)).toContain("usual: under 0 to 9.62 thou");
    expect(spec.description).toContain("usual by the readings themselves: under 0 to 9.62 thou");
    expect((await draw(endPlayHistogram({ ...rows, usual }))).match(/stroke-dasharray="5,3"/g)).toHaveLength(2);
  });

  it("draws readings that are all alike, and a strip without width", async () => {
    const one = { from: 4.5, to: 5.5, inside: 3, outside: 0 };
    const svg = await draw(endPlayHistogram({ ...rows, unit: "", bins: [one], usual: { low: 5, high: 5 } }));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe("endPlayInOrder()", () => {
  const { chart, window, histogram: bins } = asBuiltOf(240);
  const rows = { title: "Saltmere", unit: "thou", window, chart, bins, of: "quarter" } as const;
  const marks = (svg: string) => svg.match(/aria-roledescription|<path/g) ?? [];

  it("draws each of the latest 200 readings and its difference from the one before, once", () => {
    const { layer } = endPlayInOrder(rows) as unknown as {
      layer: { mark: { type: string; shape?: string }; data: { values: { value?: number; range?: number }[] } }[];
    };
    const points = layer.filter(({ mark }) => mark.type === "point" && mark.shape !== "diamond");
    const values = points.flatMap(({ data }) => data.values);
    expect(values.filter(({ value }) => value !== undefined).map(({ value }) => value)).toHaveLength(200);
    expect(values.filter(({ range }) => range !== undefined)).toHaveLength(200);
    expect(marksOf(endPlayInOrder(rows))).toBeLessThan(2000);
  });

  it("tells by shape what lies below, above, and breaks a rule", () => {
    const { layer } = endPlayInOrder(rows) as unknown as {
      layer: { mark: { shape?: string }; data: { values: unknown[] } }[];
    };
    const of = (shape: string) =>
      layer.filter(({ mark }) => mark.shape === shape).reduce((sum, { data }) => sum + data.values.length, 0);
    const { points } = chart;
    expect(of("triangle-down")).toBe(points.filter(({ outside }) => outside === "below").length);
    expect(of("triangle-up")).toBe(points.filter(({ outside }) => outside === "above").length);
    expect(of("triangle-up")).toBeGreaterThan(0);
    // Of 240 readings each 40th breaks a rule, five of them among the latest 200; no range is above its limit of 6.2
    expect(of("diamond")).toBe(5);
  });

  it("names window and usual limits apart, a lower limit below 0 as from under 0", async () => {
    const svg = await draw(endPlayInOrder(rows));
    expect(wordsOf(svg)).toEqual(
      expect.arrayContaining([
        ...["window 2", "window 7", "usual to 9.5", "middle 4.4", "from under 0", "usual to 6.2", "middle 1.9"],
        ...["End play as built (thou)", "Differs from the one before (thou)"],
      ]),
    );
    expect(svg).toMatch(/font-weight="600"[^>]*>window 2</);
    expect(svg).toMatch(/font-style="italic"[^>]*>usual to 9.5</);
    expect(svg.match(/stroke-dasharray="5,3"/g)).toHaveLength(2);
    expect(marks(svg).length).toBeGreaterThan(400);
  });

  it.each<{ name: string; readings: number; more: Partial<BenchChart> }>([
    { name: "one reading", readings: 1, more: {} },
    { name: "two", readings: 2, more: {} },
    { name: "no limits", readings: 30, more: { limits: null, reason: "all readings are alike" } },
  ])("draws $name, without a window and without dates", async ({ readings, more }) => {
    const own = asBuiltOf(readings, { window: null });
    const points = own.chart.points.map((point) => ({ ...point, on: null, unit: null }));
    const svg = await draw(
      endPlayInOrder({ ...rows, unit: "", window: null, chart: { ...own.chart, points, ...more } }),
    );
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("escapes what frames, cards and titles may hold", async () => {
    const points = chart.points.map((point) => ({ ...point, unit: HOSTILE, card: HOSTILE }));
    expect(await draw(endPlayInOrder({ ...rows, title: HOSTILE, chart: { ...chart, points } }))).not.toContain(
      "<script",
    );
  });
});

describe("comebacksByBuilt()", () => {
  const built = (at: number, count: number): Built => {
    const share = shareOf(count, 8);
    return {
      name: `2023-Q${at + 1}`,
      from: Date.UTC(2023, 3 * at, 1),
      to: Date.UTC(2023, 3 * at + 3, 1),
      builds: 8,
      share: { ...share, estimate: share.estimate! },
    };
  };
  const words = { title: "Saltmere", days: 90, of: "quarter", all: shareOf(6, 32) };

  it("draws a dot and a bar for each quarter, and the share of all as a line with its words", async () => {
    const spec = comebacksByBuilt([built(0, 1), built(1, 3), built(2, 0), built(3, 2)], words);
    const drawn = wordsOf(await draw(spec));
    expect(drawn).toEqual(
      expect.arrayContaining(["all 19 %", "Quarter built", "Back within 90 days", "2023-01", "2023-10"]),
    );
    expect(spec.description).toContain("2023-Q2 38 % (2.1 to 73 %)");
    // dots and bars, the line of all, its words and the strip under them
    expect(marksOf(spec)).toBe(4 + 4 + 3);
  });

  it("draws a single month that none came back from, and no line where the share of all is not known", async () => {
    const svg = await draw(comebacksByBuilt([built(0, 0)], { ...words, of: "month", all: shareOf(0, 0) }));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(wordsOf(svg).join(" ")).not.toContain("all ");
  });
});

describe("dayTicks()", () => {
  it.each([
    {
      days: ["2023-12-30", "2024-01-02", "2024-01-09"],
      ticks: [
        { at: 0, words: "2023-12" },
        { at: 1, words: "2024-01" },
      ],
    },
    {
      days: [null, "2024-01-02", "2024-01-09"],
      ticks: [
        { at: 1, words: "2024-01-02" },
        { at: 2, words: "2024-01-09" },
      ],
    },
    { days: ["2024-01-02"], ticks: [{ at: 0, words: "2024-01-02" }] },
    { days: [null, null], ticks: [] },
    { days: [], ticks: [] },
  ])("marks $days (by hand)", ({ days, ticks }) => {
    expect(dayTicks(days)).toEqual(ticks);
  });

  it("takes quarters, years and tens of years where months are too many, never more than nine", () => {
    const monthly = (months: number) =>
      Array.from({ length: months }, (_, at) => new Date(Date.UTC(1990, at, 5)).toISOString().slice(0, 10));
    expect(dayTicks(monthly(12)).map(({ words }) => words)).toEqual(["1990-Q1", "1990-Q2", "1990-Q3", "1990-Q4"]);
    expect(dayTicks(monthly(100)).map(({ words }) => words)).toEqual(
      Array.from({ length: 9 }, (_, at) => String(1990 + at)),
    );
    expect(dayTicks(monthly(300)).map(({ words }) => words)).toEqual(["1990s", "2000s", "2010s"]);
  });
});

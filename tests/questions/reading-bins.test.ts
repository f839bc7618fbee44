import { describe, expect, it } from "vitest";
import { readingBins } from "../../src/questions/reading-bins.ts";

/** Bars of readings held against a window, as `bench` holds them. */
function binsOf(values: number[], window: { low: number; high: number } | null) {
  const outside = values.map((value) => window !== null && (value < window.low || value > window.high));
  return readingBins(Float64Array.from(values), outside, window === null ? null : window.high - window.low);
}

describe("readingBins()", () => {
  const window = { low: 2, high: 7 };

  it("counts every reading once, those outside apart (by hand)", () => {
    expect(binsOf([2, 7, 1.99, 7.01, 4.5], window)).toEqual([
      { from: 1.75, to: 2.25, inside: 1, outside: 1 },
      { from: 4.25, to: 4.75, inside: 1, outside: 0 },
      { from: 6.75, to: 7.25, inside: 1, outside: 1 },
    ]);
  });

  it("centres bars of a whole unit on readings taken in whole units (by hand)", () => {
    const bins = binsOf([1, 2, 2, 5, 7, 8], window);
    expect(bins.map(({ from, to, inside, outside }) => [from, to, inside, outside])).toEqual([
      [0.5, 1.5, 0, 1],
      [1.5, 2.5, 2, 0],
      [4.5, 5.5, 1, 0],
      [6.5, 7.5, 1, 0],
      [7.5, 8.5, 0, 1],
    ]);
  });

  it.each([
    { name: "none", values: [], bars: 0 },
    { name: "one", values: [4], bars: 1 },
    { name: "all the same", values: [5, 5, 5], bars: 1 },
    { name: "all nought", values: [0, 0], bars: 1 },
  ])("makes $bars bars of $name without a window", ({ values, bars }) => {
    expect(binsOf(values, null)).toHaveLength(bars);
  });

  it("widens the bars for a reading far out, at most about 60 of them", () => {
    const bins = binsOf([...Array.from({ length: 500 }, (_, index) => 2 + index / 100), 500], window);
    expect(bins.length).toBeLessThanOrEqual(62);
    expect(bins.reduce((sum, { inside, outside }) => sum + inside + outside, 0)).toBe(501);
  });
});

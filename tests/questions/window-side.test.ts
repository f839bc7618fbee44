import { describe, expect, it } from "vitest";
import { sideOf } from "../../src/questions/window-side.ts";

const THOU = { low: 2, high: 7 };

describe("sideOf()", () => {
  it.each([
    // 2 and 7 thou are 0.0508 and 0.1778 mm (NIST SP 811): a gauge in hundredths of a mm shows 0.05 and 0.18
    [0.05 / 0.0254, null],
    [0.18 / 0.0254, null],
    [0.04 / 0.0254, "below"],
    [0.19 / 0.0254, "above"],
    // dials in tenths, halves and whole thou
    [2, null],
    [7, null],
    [1.9, "below"],
    [7.1, "above"],
    [1.5, "below"],
  ])("takes what a dial can't tell from an edge as on it: %f thou", (reading, side) => {
    expect(sideOf(reading, THOU, "thou")).toBe(side);
  });

  it("does the same in every unit", () => {
    const mm = { low: 2 * 0.0254, high: 7 * 0.0254 };
    for (const [reading, side] of [
      [0.05, null],
      [0.04, "below"],
      [0.18, null],
      [0.19, "above"],
    ] as const) {
      expect(sideOf(reading, mm, "mm")).toBe(side);
      expect(sideOf(reading * 1000, { low: mm.low * 1000, high: mm.high * 1000 }, "um")).toBe(side);
      expect(sideOf(reading / 25.4, { low: 0.002, high: 0.007 }, "in")).toBe(side);
    }
  });

  it("holds readings whose unit is not known to the last digits, and to no end that is not there", () => {
    expect(sideOf(0.1 + 0.2, { low: 0, high: 0.3 }, null)).toBe(null);
    expect(sideOf(0.301, { low: 0, high: 0.3 }, null)).toBe("above");
    expect(sideOf(1e6, { low: 0, high: Number.NaN }, "thou")).toBe(null);
    expect(sideOf(-1e6, { low: Number.NaN, high: 1 }, "thou")).toBe(null);
  });
});

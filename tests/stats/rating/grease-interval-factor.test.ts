import { describe, expect, it } from "vitest";
import { greaseIntervalFactor } from "../../../src/stats/rating/grease-interval-factor.ts";

describe("greaseIntervalFactor", () => {
  it.each([
    [70, 1],
    [85, 0.5],
    [100, 0.25],
    [55, 2],
    [40, 2],
    [-20, 2],
  ])("W-BR6: at %d C, %d (lubrication sections of two bearing makers' catalogues)", (temperature, factor) => {
    expect(greaseIntervalFactor(temperature)).toBe(factor);
  });

  it("refuses no temperature", () => {
    expect(() => greaseIntervalFactor(Number.NaN)).toThrow("must be finite, found NaN");
  });
});

import { describe, expect, it } from "vitest";
import { figureLines } from "./simulation/figures.ts";

describe("figures of simulated fleets", () => {
  it("are a line for each kind of fleet asked for, the same whenever they are drawn with a seed", () => {
    const lines = [...figureLines(3, 2, "twelve at 4 times the rate, 6 expected, by exposures")];
    expect(lines).toHaveLength(3);
    expect(lines[2]).toMatch(/^100\.0 % \| 100\.0 % \| (100|9\d|8\d)\.\d % \| \d+\.\d % \| - \| twelve/);
    expect([...figureLines(3, 2, "twelve at 4 times the rate, 6 expected, by exposures")]).toEqual(lines);
  });
});

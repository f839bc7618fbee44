import { describe, expect, it } from "vitest";
import { bandsOf, outerBandsWarnings } from "../../src/questions/compare-bands.ts";

const endPlay = { name: "end_play", kind: "measured" as const, values: Float64Array.of(0.05, 0.12, 0.18, Number.NaN) };

const warnings = (edges: number[]) => {
  const lives = new Map(bandsOf(endPlay, edges).map(({ name, rows }) => [name, rows.length]));
  return outerBandsWarnings(lives, edges, "mm");
};

describe("outerBandsWarnings", () => {
  it("asks for the unit of edges between which no life lies: thou taken for mm", () => {
    expect(warnings([2, 3.5, 7])).toEqual([
      expect.stringContaining("3 of 3 lives lie under 2 mm; are the edges meant in mm?"),
    ]);
  });

  it.each([
    { edges: [0.1, 0.15], what: "some lie between" },
    { edges: [0.1], what: "one edge has no between" },
  ])("says nothing where $what", ({ edges }) => {
    expect(warnings(edges)).toEqual([]);
  });
});

import { describe, expect, it } from "vitest";
import { bandsOf, outerBandsWarnings } from "../../src/questions/compare-bands.ts";

const endPlay = { name: "end_play", kind: "measured" as const, values: Float64Array.of(0.05, 0.12, 0.18, Number.NaN) };

describe("outerBandsWarnings", () => {
  it("asks for the unit of edges between which no life lies: thou taken for mm", () => {
    expect(outerBandsWarnings(bandsOf(endPlay, [2, 3.5, 7]), "mm")).toEqual([
      expect.stringContaining("3 of 3 lives lie under 2 mm; are the edges meant in mm?"),
    ]);
  });

  it.each([
    { edges: [0.1, 0.15], what: "some lie between" },
    { edges: [0.1], what: "one edge has no between" },
  ])("says nothing where $what", ({ edges }) => {
    expect(outerBandsWarnings(bandsOf(endPlay, edges), "mm")).toEqual([]);
  });
});

import { describe, expect, it } from "vitest";
import { spreadApart } from "../../../reports/charts/spread-apart.ts";

describe("spreadApart()", () => {
  it.each([
    { name: "leaves labels that have room", wanted: [0.1, 0.9, 0.5], gap: 0.1, places: [0.1, 0.9, 0.5] },
    { name: "moves the upper of two that overlap", wanted: [0.5, 0.5], gap: 0.25, places: [0.5, 0.75] },
    { name: "pushes down from the upper edge", wanted: [1, 1], gap: 0.25, places: [0.75, 1] },
    { name: "spreads evenly where there is no room for all", wanted: [0, 0, 0], gap: 1, places: [0, 0.5, 1] },
    { name: "has nothing to place", wanted: [], gap: 1, places: [] },
    { name: "keeps one inside", wanted: [2], gap: 1, places: [1] },
  ])("$name (by hand)", ({ wanted, gap, places }) => {
    expect(spreadApart(wanted, gap, 0, 1)).toEqual(places);
  });
});

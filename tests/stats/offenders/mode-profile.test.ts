import { describe, expect, it } from "vitest";
import { compareModes } from "../../../src/stats/offenders/mode-profile.ts";
import { expectAgreement } from "../../agree.ts";

const compared = (own: number[], others: number[], options = {}) =>
  compareModes(Int32Array.from(own), Int32Array.from(others), options);

describe("compareModes", () => {
  // R 4.2.2: fisher.test(rbind(own, others))$p.value
  it.each([
    { own: [4, 0], others: [2, 9], p: 0.01098901099 },
    { own: [5, 1, 2], others: [10, 14, 9], p: 0.2264279161 },
    { own: [0, 3, 1, 2], others: [20, 5, 9, 4], p: 0.01117232172 },
    { own: [0, 3, 0, 1, 2], others: [20, 5, 0, 9, 4], p: 0.01117232172 },
  ])("gives $p for $own against $others", ({ own, others, p }) => {
    const found = compared(own, others);
    expect(found).toMatchObject({ method: "exact", draws: null });
    expectAgreement(found.p, p, { rel: 1e-8 });
  });

  it("draws tables where there are too many, and comes near the exact chance", () => {
    // R 4.2.2: fisher.test(rbind(own, others), workspace = 2e8)$p.value
    const [own, others] = [
      [14, 9, 6, 3, 2, 4, 7],
      [60, 61, 40, 33, 20, 52, 31],
    ];
    const found = compared(own, others, { seed: 4 });
    expect(found).toMatchObject({ method: "drawn", draws: 9999 });
    expectAgreement(found.p, 0.46779666, { abs: 0.015 });
    expect(compared(own, others, { seed: 4 })).toEqual(found);
  });

  it("says why there is nothing to compare", () => {
    expect(compared([0, 0], [3, 4])).toEqual({ p: null, reason: "there are no events on one side" });
    expect(compared([1, 2], [0, 0])).toEqual({ p: null, reason: "there are no events on one side" });
    expect(compared([3, 0], [4, 0])).toEqual({ p: null, reason: "all events are of one mode" });
    expect(compared([], [])).toMatchObject({ p: null });
    expect(() => compared([1], [1, 2])).toThrow("found 1 and 2");
    expect(() => compared([1, -1], [1, 2])).toThrow("a count of -1");
  });
});

import { describe, expect, it } from "vitest";
import { curveStart, riskTable } from "../../../src/stats/survival/risk-table.ts";

const late = {
  time: Float64Array.of(2, 9, 9, 9, 9),
  failed: Uint8Array.of(1, 1, 0, 0, 0),
  entry: Float64Array.of(1, 3, 4, 5, 6),
};

describe("riskTable", () => {
  it("lets lives in after their entry and out after their end (worked by hand)", () => {
    expect(riskTable(late)).toEqual([
      { time: 2, atRisk: 1, failed: 1, censored: 0 },
      { time: 9, atRisk: 4, failed: 1, censored: 3 },
    ]);
  });

  it("counts a life that ends at 0 as at risk there", () => {
    expect(riskTable({ time: Float64Array.of(0, 1), failed: Uint8Array.of(1, 0) })[0]).toMatchObject({
      time: 0,
      atRisk: 2,
    });
  });
});

describe("curveStart", () => {
  it("is the entry with which so many are at risk together", () => {
    expect([1, 2, 3, 4].map((minimum) => curveStart(late, minimum))).toEqual([1, 4, 5, 6]);
  });

  it("is null where so many never are", () => {
    expect(curveStart(late, 5)).toBeNull();
  });

  it("is 0 without late entry, however few the lives, and where enough are there from the start", () => {
    const early = { time: Float64Array.of(3), failed: Uint8Array.of(1) };
    expect(curveStart(early, 5)).toBe(0);
    expect(curveStart({ ...late, entry: Float64Array.of(0, 0, 0, 0, 6) }, 4)).toBe(0);
  });
});

import { describe, expect, it } from "vitest";
import { zeroFailureSampleSize } from "../../../src/stats/assumed-shape/zero-failure-sample-size.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("zeroFailureSampleSize", () => {
  const { rows, tolerance } = new PublishedCase("14_fixed_shape_bounds").table("zero_failure_sample_size");
  it.each(rows)("case 14: shape $shape, $test_ratio missions, reliability $reliability: $n units", (row) => {
    const found = zeroFailureSampleSize({
      shape: row["shape"]!,
      testRatio: row["test_ratio"]!,
      reliability: row["reliability"]!,
      level: row["confidence"]!,
    });
    expectAgreement(found.exact, row["n_exact"]!, tolerance);
    expect(found.units).toBe(row["n"]);
  });

  it("does not take a unit more for rounding, and never none", () => {
    // By hand: 0.5^7 = 1 - 127/128, and one unit run ten missions shows far more.
    expect(zeroFailureSampleSize({ shape: 1, testRatio: 1, reliability: 0.5, level: 127 / 128 }).units).toBe(7);
    expect(zeroFailureSampleSize({ shape: 3, testRatio: 10, reliability: 0.9, level: 0.5 }).units).toBe(1);
  });

  it("refuses aims outside their range, and tests that can't be", () => {
    const aim = { shape: 2, testRatio: 1, reliability: 0.9, level: 0.9 };
    expect(() => zeroFailureSampleSize({ ...aim, shape: 0 })).toThrow("must be above 0, found 0 and 1");
    expect(() => zeroFailureSampleSize({ ...aim, testRatio: Number.NaN })).toThrow(RangeError);
    expect(() => zeroFailureSampleSize({ ...aim, reliability: 1 })).toThrow("the reliability must lie in (0, 1)");
    expect(() => zeroFailureSampleSize({ ...aim, level: 0 })).toThrow("the level must lie in (0, 1)");
    expect(() => zeroFailureSampleSize({ ...aim, shape: 40, testRatio: 0.1 })).toThrow("no number of units would do");
  });
});

import { describe, expect, it } from "vitest";
import type { TrendTest } from "../../src/questions/recurrence-answer.ts";
import { trendDirection } from "../../src/questions/trend-direction.ts";

// Expected by hand: of tests with p under 1 - level, the one way that they all point.

function trendOf(...tests: [number | null, TrendTest["direction"]][]) {
  const [laplace, milHdbk189, lewisRobinson, reverseArrangements] = [0, 1, 2, 3].map((at): TrendTest => {
    const [p, direction] = tests[at] ?? [null, null];
    return { statistic: p === null ? null : 1, p, direction, events: 20, units: 4 };
  }) as [TrendTest, TrendTest, TrendTest, TrendTest];
  return { laplace, milHdbk189, lewisRobinson, reverseArrangements };
}

describe("trendDirection()", () => {
  it("points nowhere by tests that see nothing beyond chance, though each leans one way", () => {
    expect(trendDirection(trendOf([0.28, "deteriorating"], [0.64, "deteriorating"]), 0.95)).toEqual({
      direction: null,
      seen: 0,
      tests: 2,
    });
  });

  it("points as the tests beyond chance do, by the level asked", () => {
    const trend = trendOf([0.06, "improving"], [0.2, "deteriorating"], [0.5, "deteriorating"]);
    expect(trendDirection(trend, 0.9)).toEqual({ direction: "improving", seen: 1, tests: 3 });
    expect(trendDirection(trend, 0.95).direction).toBeNull();
  });

  it("says that tests disagree, and that there are none", () => {
    expect(trendDirection(trendOf([0.01, "improving"], [0.02, "deteriorating"]), 0.95).direction).toBe(
      "tests disagree",
    );
    expect(trendDirection(trendOf(), 0.95)).toEqual({ direction: null, seen: 0, tests: 0 });
  });
});

import { describe, expect, it } from "vitest";
import { orderOf } from "../../src/stats/order.ts";

describe("orderOf", () => {
  it.each([
    ["whole ages, counted", [3, 1, 2, 1, 0]],
    ["whole ages too far apart to count", [3e9, 1, 2e9, 1, 0]],
    ["tenths too far apart to count", [3e8 + 0.1, 0.3, 2e8, 0.3, 0]],
    ["ages that are no ticks", [3.25, 1.111, 2, 1.111, 0]],
    ["ages too large for a number with the row behind it", [3e15, 1, 2e15, 1, 0]],
  ])("ascends, equal values in their order: %s", (_, values) => {
    expect([...orderOf(Float64Array.from(values))]).toEqual([4, 1, 3, 2, 0]);
  });

  it("has nothing to order where there is nothing", () => {
    expect([...orderOf(new Float64Array(0))]).toEqual([]);
  });
});

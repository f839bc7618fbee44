import { describe, expect, it } from "vitest";
import { simulatedQuantiles } from "../../src/simulate/simulated-quantiles.ts";

const LIVES = 200_000;
const drawn = (factors: number[], law = { shape: 1.5, scale: 8000 }) =>
  simulatedQuantiles(law, factors, { lives: LIVES, at: [0.1, 0.5], seed: 3, label: "test" });

describe("simulatedQuantiles()", () => {
  // The share of simulated lives below the true quantile is binomial; so F at the simulated one lies within 4 standard errors of p.
  it.each([
    { factors: [1], source: "the law itself" },
    { factors: [1, 0.25], source: "half of the lives a quarter as long" },
    { factors: [2, 1, 1, 0.1], source: "four factors" },
  ])("agree with the closed form of the mixture: $source", ({ factors }) => {
    const cumulative = (t: number) =>
      factors.reduce((sum, factor) => sum - Math.expm1(-((t / (8000 * factor)) ** 1.5)), 0) / factors.length;
    const [l10, median] = drawn(factors);
    expect(Math.abs(cumulative(l10!) - 0.1)).toBeLessThan(4 * Math.sqrt((0.1 * 0.9) / LIVES));
    expect(Math.abs(cumulative(median!) - 0.5)).toBeLessThan(4 * Math.sqrt((0.5 * 0.5) / LIVES));
  });

  it("refuses a slot in which no life began", () => {
    expect(() => drawn([])).toThrow(RangeError);
  });
});

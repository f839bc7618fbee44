import { describe, expect, it } from "vitest";
import { DAYS_A_PERIOD } from "../../src/questions/spares-demand.ts";
import { periodsAhead } from "../../src/questions/spares-lead.ts";

const DRAWS = { draws: 20_000, seed: 3 };

/** Days that draws look ahead, in the mean. */
function meanDays(days: number, review: number, range: { low: number | null; high: number | null }): number {
  const periods = periodsAhead({ days, ...range, from: "part" }, review, DRAWS);
  return (periods.reduce((sum, one) => sum + one, 0) * DAYS_A_PERIOD) / DRAWS.draws;
}

describe("periodsAhead()", () => {
  it("looks ahead as many days as lead time and review have, though it counts in longer periods", () => {
    const none = { low: null, high: null };
    expect(periodsAhead({ days: 0, ...none, from: "part" }, 0, DRAWS).every((one) => one === 0)).toBe(true);
    for (const days of [3, 4, 5, 8, 60]) {
      // The mean of so many draws lies within a tenth of a day: 7.6 days x 0.5 / sqrt(20,000) = 0.03
      expect(Math.abs(meanDays(days, 0, none) - days)).toBeLessThan(0.15);
      expect(Math.abs(meanDays(days, 30, none) - days - 30)).toBeLessThan(0.15);
    }
  });

  it("has the mean of a triangle where shortest and longest are known", () => {
    // (84 + 112 + 182) / 3 = 126; standard deviation 20.7, so 0.15 in the mean of so many
    expect(Math.abs(meanDays(112, 30, { low: 84, high: 182 }) - 156)).toBeLessThan(0.6);
  });
});

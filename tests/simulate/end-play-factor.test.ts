import { describe, expect, it } from "vitest";
import { endPlayFactor } from "../../src/simulate/end-play-factor.ts";
import { sampleScenario } from "./sample.ts";

describe("endPlayFactor()", () => {
  const curve = { best_thou: 4, tight: 0.1, slack: 0.02 };
  it.each([
    { thou: 4, factor: 1, source: "by hand: no way off the best" },
    { thou: 2, factor: 0.670320046, source: "by hand: exp(-0.1 x 4) = exp(-0.4)" },
    { thou: 6, factor: 0.923116346, source: "by hand: exp(-0.02 x 4) = exp(-0.08)" },
    { thou: 9, factor: 0.60653066, source: "by hand: exp(-0.02 x 25) = exp(-0.5)" },
  ])("gives $factor at $thou thou ($source)", ({ thou, factor }) => {
    expect(Math.abs(endPlayFactor(thou, curve) - factor)).toBeLessThan(1e-8);
  });

  it("is at its best inside the window of 2 to 7 thou in the sample, where life at 2 thou is at most 0.6 of that and the tight side falls the steeper", () => {
    const planted = sampleScenario().effects.end_play!;
    expect(planted.best_thou).toBeGreaterThan(2);
    expect(planted.best_thou).toBeLessThan(7);
    expect(endPlayFactor(2, planted)).toBeLessThanOrEqual(0.6);
    const away = 1.5;
    expect(endPlayFactor(planted.best_thou - away, planted)).toBeLessThan(
      endPlayFactor(planted.best_thou + away, planted),
    );
  });
});

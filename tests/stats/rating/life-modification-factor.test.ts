import { describe, expect, it } from "vitest";
import { lifeModificationFactor, type RatedBearing } from "../../../src/stats/rating/life-modification-factor.ts";
import { modifiedRatingLife } from "../../../src/stats/rating/modified-rating-life.ts";
import { reliabilityFactor } from "../../../src/stats/rating/reliability-factor.ts";
import { expectAgreement } from "../../agree.ts";

const bearings: RatedBearing[] = ["radial ball", "radial roller", "thrust ball", "thrust roller"];
const relieved = (viscosityRatio: number, relief: number) => ({
  viscosityRatio,
  contamination: relief,
  fatigueLimit: 1,
  load: 1,
});
const factorOf = (bearing: RatedBearing, ratio: number, relief: number) =>
  lifeModificationFactor(bearing, relieved(ratio, relief)).factor;

describe("lifeModificationFactor", () => {
  it.each([
    [0.5, 0.529],
    [1, 2.431],
    [2, 4.202],
    [4, 7.202],
  ])("W-BR5: radial ball at kappa %d, eC Cu / P 0.1: %d (ISO 281:2007, corrected coefficient)", (ratio, expected) => {
    expectAgreement(factorOf("radial ball", ratio, 0.1), expected, { abs: 1e-3 });
  });

  // Python: 0.1*(1-(1.5859-1.2348)*0.1**0.4)**-9.185; 0.1*(1-(2.5671-1.9987)**0.83*(0.1/3)**(1/3))**-9.3; the first with 0.1/2.5.
  it.each([
    ["radial roller", 0.39865],
    ["thrust ball", 0.80942],
    ["thrust roller", 0.25498],
  ] as const)("%s at kappa 1, eC Cu / P 0.1: %d", (bearing, expected) => {
    expectAgreement(factorOf(bearing, 1, 0.1), expected, { abs: 1e-5 });
  });

  it.each(bearings)("%s: the curve is unbroken where bands of kappa meet", (bearing) => {
    for (const edge of [0.4, 1]) {
      for (const relief of [0.01, 0.1, 0.3]) {
        // The coefficients have five digits, which the power of -9.3 makes 2 % of at most here.
        expectAgreement(factorOf(bearing, edge - 1e-12, relief), factorOf(bearing, edge, relief)!, { rel: 0.02 });
      }
    }
  });

  it.each(bearings)("%s: rises with kappa and relief from 0.1 to 50, and never past", (bearing) => {
    for (const [more, less] of [
      [relieved(2, 0.2), relieved(1, 0.2)],
      [relieved(0.3, 0.2), relieved(0.2, 0.2)],
      [relieved(1, 0.3), relieved(1, 0.2)],
    ] as const) {
      const [high, low] = [more, less].map((conditions) => lifeModificationFactor(bearing, conditions).factor!);
      expect(high).toBeGreaterThan(low!);
    }
    expectAgreement(factorOf(bearing, 1, 0), 0.1, { rel: 1e-14 });
    expectAgreement(factorOf(bearing, 0.1, 0.5), 0.1, { rel: 0.01 });
    const light = { viscosityRatio: 4, contamination: 1, fatigueLimit: 1e6, load: 1e-6 };
    expect(lifeModificationFactor(bearing, light).factor).toBe(50);
  });

  it("takes 4 for a viscosity ratio above it, and says so", () => {
    const found = lifeModificationFactor("radial ball", relieved(9, 0.1));
    expect(found).toEqual(lifeModificationFactor("radial ball", relieved(4, 0.1)));
    expect(found.viscosityRatio).toBe(4);
  });

  it("has none below 0.1, with the reason", () => {
    const found = lifeModificationFactor("radial roller", relieved(0.08, 0.1));
    expect(found).toEqual({
      factor: null,
      viscosityRatio: 0.08,
      reason: "the viscosity ratio 0.08 is below 0.1, where surfaces touch and no modified life is defined",
    });
    expect(modifiedRatingLife(10_000, reliabilityFactor(0.9, "ISO 281:2007"), found)).toBeNull();
  });

  it("refuses conditions outside their ranges", () => {
    const good = relieved(1, 0.5);
    const refused = (wrong: Partial<typeof good>) => () => lifeModificationFactor("radial ball", { ...good, ...wrong });
    expect(refused({ viscosityRatio: Number.NaN })).toThrow("the viscosity ratio must be 0 or more");
    expect(refused({ contamination: 1.2 })).toThrow("the contamination factor must be 0 to 1, found 1.2");
    expect(refused({ fatigueLimit: 0 })).toThrow("the fatigue load limit must be above 0");
    expect(refused({ load: -2 })).toThrow("the load must be above 0 and finite, found -2");
  });
});

describe("modifiedRatingLife", () => {
  it("multiplies (by hand: 0.64 * 2.5 * 10000)", () => {
    const life = modifiedRatingLife(10_000, reliabilityFactor(0.95, "ISO 281:2007"), {
      factor: 2.5,
      viscosityRatio: 1,
    });
    expectAgreement(life, 16_000, { rel: 1e-12 });
  });

  it("refuses a life of 0", () => {
    expect(() =>
      modifiedRatingLife(0, reliabilityFactor(0.9, "ISO 281:2007"), { factor: 1, viscosityRatio: 1 }),
    ).toThrow("the basic rating life must be above 0");
  });
});

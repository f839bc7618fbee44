import { describe, expect, it } from "vitest";
import { referenceViscosity } from "../../../src/stats/rating/reference-viscosity.ts";
import { viscosityRatio } from "../../../src/stats/rating/viscosity-ratio.ts";
import { expectAgreement } from "../../agree.ts";

describe("referenceViscosity", () => {
  it.each([
    [900, 20.52],
    [1780, 13.77],
    [3550, 9.75],
    [1000, 18.37],
    [1000 - 1e-9, 18.8],
  ])("W-BR4: %d r/min, 60 mm: %d mm2/s (ISO 281:2007 closed form, by calculator)", (speed, expected) => {
    expectAgreement(referenceViscosity(speed, 60), expected, { abs: 0.01 });
  });

  it("refuses a shaft that stands and a bearing without size", () => {
    expect(() => referenceViscosity(0, 60)).toThrow("the speed must be above 0 and finite, found 0");
    expect(() => referenceViscosity(1000, -1)).toThrow("the mean diameter must be above 0");
  });
});

describe("viscosityRatio", () => {
  it("is 2 with twice the reference viscosity (by hand: 2 * 13.7706)", () => {
    expectAgreement(viscosityRatio(27.5412, 1780, 60), 2, { rel: 1e-4 });
  });

  it("refuses an oil without viscosity", () => {
    expect(() => viscosityRatio(0, 1780, 60)).toThrow("the viscosity must be above 0 and finite, found 0");
  });
});

import { describe, expect, it } from "vitest";
import { scaleOf } from "../../../src/stats/regression/scaled-covariate.ts";
import { expectAgreement } from "../../agree.ts";

describe("scaleOf", () => {
  // by hand: 1, 2, 3, 6 have mean 3 and mean square about it (4 + 1 + 0 + 9) / 4 = 3.5
  it.each([
    ["plain", 1, 0],
    ["tiny", 1e-170, 0],
    ["huge", 1e200, 0],
    ["far off", 1, 1e9],
  ])("gives mean and standard deviation of %s numbers", (_, unit, shift) => {
    const { centre, size } = scaleOf(
      Float64Array.of(1, 2, 3, 6).map((value) => shift + unit * value),
      null,
    );
    expectAgreement(centre, shift + 3 * unit, { rel: 1e-14 });
    expectAgreement(size, unit * Math.sqrt(3.5), { rel: 1e-7 });
  });

  it("is not led astray by a first value far from all others", () => {
    const { centre, size } = scaleOf(Float64Array.of(1e12, 1, 2, 3, 6), Float64Array.of(1e-20, 1, 1, 1, 1));
    expectAgreement(centre, 3, { rel: 1e-7 });
    expectAgreement(size, Math.sqrt(3.5 + 2500), { rel: 1e-3 });
  });

  it("weighs, and leaves out what has no weight", () => {
    // 1 and 4 with weights 2 and 1: mean 2, mean square about it (2 + 4) / 3 = 2
    const { centre, size } = scaleOf(Float64Array.of(1e300, 1, 4), Float64Array.of(0, 2, 1));
    expectAgreement(centre, 2, { rel: 1e-14 });
    expectAgreement(size, Math.SQRT2, { rel: 1e-14 });
  });

  it.each([0.1, 1e9 + 0.1, -7, 0])("finds a million of %d alike, and so with rounding in them", (value) => {
    const alike = new Float64Array(1e6).fill(value);
    expect(scaleOf(alike, null).size).toBe(0);
    alike[5] = value * (1 + 2e-16);
    expect(scaleOf(alike, null).size).toBe(0);
  });

  it("has no size where there is nothing", () => {
    expect(scaleOf(new Float64Array(0), null)).toEqual({ centre: 0, size: 0 });
    expect(scaleOf(Float64Array.of(1, 2), new Float64Array(2))).toEqual({ centre: 0, size: 0 });
  });
});

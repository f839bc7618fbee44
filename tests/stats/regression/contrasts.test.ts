import { describe, expect, it } from "vitest";
import { lifeRatio } from "../../../src/stats/regression/life-ratio.ts";
import { likelihoodRatioTest } from "../../../src/stats/regression/likelihood-ratio-test.ts";
import { predictedLife } from "../../../src/stats/regression/predicted-life.ts";
import { waldContrast } from "../../../src/stats/regression/wald-contrast.ts";
import { expectAgreement } from "../../agree.ts";
import { capacitors, fitted } from "./regression-data.ts";

describe("waldContrast", () => {
  const coefficients = Float64Array.of(2, 0.5, -1);
  const covariance = [
    [0.04, 0, 0, 9],
    [0, 0.09, 0.02, 9],
    [0, 0.02, 0.16, 9],
    [9, 9, 9, 9],
  ];

  it("is by hand the sum of products", () => {
    // 2 * 0.5 + 3 * (-1) = -2; variance 4 * .09 + 2 * 6 * .02 + 9 * .16 = 2.04
    const found = waldContrast(coefficients, covariance, [0, 2, 3], 0.95);
    expectAgreement(found.estimate, -2, { abs: 1e-15 });
    expectAgreement(found.error, Math.sqrt(2.04), { abs: 1e-15 });
    // 1.959963984540054: R qnorm(0.975)
    expectAgreement(found.low, -2 - 1.959963984540054 * Math.sqrt(2.04), { abs: 1e-12 });
    expectAgreement(found.high, -2 + 1.959963984540054 * Math.sqrt(2.04), { abs: 1e-12 });
    // R: 2 * pnorm(-2 / sqrt(2.04))
    expectAgreement(found.p, 0.16142946236708, { rel: 1e-11 });
  });

  it("is wrong to be asked for more coefficients than there are, or at no level", () => {
    expect(() => waldContrast(coefficients, covariance, [1, 1, 1, 1], 0.95)).toThrow(RangeError);
    expect(() => waldContrast(coefficients, covariance, [Number.NaN], 0.95)).toThrow(RangeError);
    expect(() => waldContrast(coefficients, covariance, [1], 0)).toThrow(RangeError);
  });
});

describe("lifeRatio", () => {
  it("is exp of a contrast", () => {
    expect(lifeRatio({ estimate: 0, low: -1, high: Math.LN2 })).toEqual({ estimate: 1, low: Math.exp(-1), high: 2 });
  });

  it("has no limit that no number is", () => {
    expect(lifeRatio({ estimate: 1, low: -800, high: 800 })).toMatchObject({
      low: 0,
      high: null,
      reason: expect.stringContaining("no upper limit"),
    });
    expect(lifeRatio({ estimate: 1, low: 710, high: 800 })).toMatchObject({ low: null, high: null });
  });
});

describe("likelihoodRatioTest", () => {
  it("is by hand twice the gain", () => {
    const found = likelihoodRatioTest({ logLikelihood: -10, parameters: 2 }, { logLikelihood: -8, parameters: 4 });
    // The tail of chi-square with 2 degrees is exp(-x / 2).
    expect(found).toMatchObject({ chiSquare: 4, degrees: 2 });
    expectAgreement(found.p, Math.exp(-2), { rel: 1e-13 });
  });

  it("finds nothing where rounding makes the larger fit the poorer", () => {
    const found = likelihoodRatioTest(
      { logLikelihood: -10, parameters: 2 },
      { logLikelihood: -10 - 1e-12, parameters: 3 },
    );
    expect(found).toEqual({ chiSquare: 0, degrees: 1, p: 1 });
  });

  it("is wrong to be called with the smaller fit as the larger", () => {
    const fit = { logLikelihood: -10, parameters: 2 };
    expect(() => likelihoodRatioTest(fit, fit)).toThrow(RangeError);
  });
});

describe("predictedLife", () => {
  const fit = fitted(capacitors());

  it.each([
    { p: 0, at: [170, 200], level: 0.95 },
    { p: 1, at: [170, 200], level: 0.95 },
    { p: 0.1, at: [170], level: 0.95 },
    { p: 0.1, at: [170, Number.NaN], level: 0.95 },
    { p: 0.1, at: [170, 200], level: 1 },
  ])("is wrong to be asked for $p at $at with level $level", (question) => {
    expect(() => predictedLife(fit, question)).toThrow(RangeError);
  });

  it("is the scale where 63.2 % have failed, with the limits of that contrast", () => {
    const found = predictedLife(fit, { p: -Math.expm1(-1), at: [175, 275], level: 0.9 });
    const contrast = lifeRatio(waldContrast(fit.coefficients, fit.covariance, [1, 175, 275], 0.9));
    for (const end of ["estimate", "low", "high"] as const) expectAgreement(found[end], contrast[end]!, { rel: 1e-12 });
  });
});

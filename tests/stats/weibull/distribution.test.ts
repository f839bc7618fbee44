import { describe, expect, it } from "vitest";
import { conditionalSurvival } from "../../../src/stats/weibull/conditional-survival.ts";
import { weibullMean } from "../../../src/stats/weibull/mean.ts";
import { weibullQuantile } from "../../../src/stats/weibull/quantile.ts";
import { weibullSurvival } from "../../../src/stats/weibull/survival.ts";
import { expectAgreement } from "../../agree.ts";

describe("Weibull quantile, survival and mean", () => {
  it("are those of the exponential when the shape is 1, by algebra", () => {
    expectAgreement(weibullQuantile(0.1, 1, 9000), -9000 * Math.log(0.9), { rel: 1e-12 });
    expectAgreement(weibullSurvival(9000, 1, 9000), Math.exp(-1), { rel: 1e-15 });
    expectAgreement(weibullMean(1, 9000), 9000, { rel: 1e-12 });
  });

  it("D-11: median, scale and mean over L10: 5.45, 7.58, 7.29 at shape 10/9; 3.51, 4.48, 4.05 at 1.5 (by algebra)", () => {
    for (const [shape, median, scale, mean] of [
      [10 / 9, 5.45, 7.58, 7.29],
      [1.5, 3.51, 4.48, 4.05],
    ] as const) {
      const l10 = weibullQuantile(0.1, shape, 1);
      expectAgreement(weibullQuantile(0.5, shape, 1) / l10, median, { abs: 0.005 });
      expectAgreement(1 / l10, scale, { abs: 0.005 });
      expectAgreement(weibullMean(shape, 1) / l10, mean, { abs: 0.005 });
    }
  });

  it("take a very small fraction without loss: p = 1e-15 gives scale * p^(1/shape), by the series of ln(1 - p)", () => {
    expectAgreement(weibullQuantile(1e-15, 2, 1000), 1000 * Math.sqrt(1e-15), { rel: 1e-12 });
  });

  it("D-5: chance to fail within 4000 h at ages 5000, 12000, 20000, 31000: 0.0918, 0.1276, 0.1574, 0.1892 (by algebra)", () => {
    for (const [age, chance] of [
      [5000, 0.0918],
      [12000, 0.1276],
      [20000, 0.1574],
      [31000, 0.1892],
    ] as const) {
      expectAgreement(1 - conditionalSurvival(age, 4000, 1.5, 30000), chance, { abs: 5e-5 });
    }
  });

  it("D-6: virtual age 500, shape 2, scale 1000, 300 further: exp(-(0.64 - 0.25)) = 0.67706 (by algebra)", () => {
    expectAgreement(conditionalSurvival(500, 300, 2, 1000), Math.exp(-0.39), { rel: 1e-12 });
  });

  it("refuse what is out of range", () => {
    expect(() => weibullQuantile(1, 2, 3)).toThrow("p must be in [0, 1), found 1");
    expect(() => weibullQuantile(0.5, 0, 3)).toThrow(RangeError);
    expect(() => weibullSurvival(-1, 2, 3)).toThrow("0 or more, found -1");
    expect(() => weibullSurvival(1, 2, Number.NaN)).toThrow(RangeError);
    expect(() => weibullMean(-2, 3)).toThrow(RangeError);
    expect(() => conditionalSurvival(1, -1, 2, 3)).toThrow(RangeError);
    expect(() => conditionalSurvival(1, 1, 2, 0)).toThrow(RangeError);
  });
});

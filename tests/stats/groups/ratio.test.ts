import { describe, expect, it } from "vitest";
import { commonShapeRatio } from "../../../src/stats/groups/common-shape-ratio.ts";
import { type QuantileRatio, quantileRatio } from "../../../src/stats/groups/quantile-ratio.ts";
import { expectAgreement } from "../../agree.ts";
import { capacitorsByVoltage, control, lives, scaled, treated } from "./group-data.ts";

function found(ratio: QuantileRatio) {
  if (!ratio.found) throw new Error(ratio.reason);
  return ratio;
}

const wald = { level: 0.95, method: "wald" } as const;
const profile = { level: 0.95, method: "profile" } as const;

describe("quantileRatio", () => {
  it("W-LR3: L10 of treated over control with the shapes free: 3.489 (Wald 1.154 to 10.548, profile 0.9124 to 10.849)", () => {
    // R 4.2.2, survival 3.5-3: predict(survreg(Surv(time, status) ~ 1), type = "uquantile", p = 0.1, se = TRUE) of each group
    const byWald = found(quantileRatio(treated, control, { p: 0.1, ...wald }));
    expectAgreement(byWald.logError, 0.5644488667, { rel: 1e-5 });
    expectAgreement(byWald.ratio.estimate, 3.489238968, { rel: 1e-6 });
    expectAgreement(byWald.ratio.low, 1.154173152, { rel: 1e-5 });
    expectAgreement(byWald.ratio.high, 10.54849401, { rel: 1e-5 });
    // R: uniroot on the likelihood maximised by optim over (log quantile, two log sigmas), dweibull and pweibull
    const byProfile = found(quantileRatio(treated, control, { p: 0.1, ...profile }));
    expectAgreement(byProfile.ratio.estimate, 3.489238968, { rel: 1e-6 });
    expectAgreement(byProfile.ratio.low, 0.9124473634, { rel: 1e-5 });
    expectAgreement(byProfile.ratio.high, 10.84879762, { rel: 1e-5 });
  });

  it("is right where two failures a group leave the likelihood far from normal", () => {
    const few = found(
      quantileRatio(lives("100 300 400+"), lives("20 90 95+"), { p: 0.1, level: 0.8, method: "profile" }),
    );
    // R 4.2.2: nested optimize on grids of log sigma (step 0.02) and log quantile (step 0.25), then uniroot
    expectAgreement(few.ratio.estimate, 4.356958634, { rel: 1e-5 });
    expectAgreement(few.ratio.low, 0.3868900271, { rel: 1e-4 });
    expectAgreement(few.ratio.high, 59.53991389, { rel: 1e-4 });
  });

  it("turned round is the inverse, and does not depend on the unit", () => {
    const there = found(quantileRatio(treated, control, { p: 0.5, ...profile })).ratio;
    for (const factor of [1, 1e9, 1e-6]) {
      const back = found(quantileRatio(scaled(control, factor), scaled(treated, factor), { p: 0.5, ...profile })).ratio;
      expectAgreement(back.estimate, 1 / there.estimate, { rel: 1e-8 });
      expectAgreement(back.low, 1 / (there.high ?? 0), { rel: 1e-6 });
      expectAgreement(back.high, 1 / (there.low ?? 0), { rel: 1e-6 });
    }
  });

  it("says what is missing, in which group", () => {
    expect(quantileRatio(treated, lives("9+ 10"), { p: 0.1, ...profile })).toEqual({
      found: false,
      reason: "in the second group there is only one failure; shape and scale need two",
    });
    expect(quantileRatio(lives(""), control, { p: 0.1, ...wald })).toEqual({
      found: false,
      reason: "in the first group there are no lives",
    });
    expect(() => quantileRatio(treated, control, { p: 1, ...wald })).toThrow(RangeError);
    expect(() => quantileRatio(treated, control, { p: 0.1, level: 1, method: "profile" })).toThrow(RangeError);
  });
});

describe("commonShapeRatio", () => {
  it("W-LR3: 3.5514 = exp(1.2673), standard error of its log 0.311; profile 2.0456 to 7.3143", () => {
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, status) ~ g, gehan): exp(-coef), vcov
    const byWald = found(commonShapeRatio([treated, control], 0, 1, wald));
    expectAgreement(byWald.ratio.estimate, Math.exp(1.267334585), { rel: 1e-7 });
    expectAgreement(byWald.logError, 0.3106399355, { rel: 1e-6 });
    expectAgreement(byWald.ratio.low, Math.exp(1.267334585 - 1.959963985 * 0.3106399355), { rel: 1e-6 });
    // R: uniroot on the likelihood maximised by optim over (log scale, log sigma)
    const byProfile = found(commonShapeRatio([treated, control], 0, 1, profile));
    expectAgreement(byProfile.ratio.low, 2.04561869, { rel: 1e-6 });
    expectAgreement(byProfile.ratio.high, 7.314340096, { rel: 1e-6 });
  });

  it.each([
    { volts: 250, at: 1, coefficient: -0.2868704474, error: 0.1922499115 },
    { volts: 300, at: 2, coefficient: -0.8020364253, error: 0.1912089988 },
    { volts: 350, at: 3, coefficient: -0.811633223, error: 0.1909840737 },
  ])("capacitors at $volts V over 200 V: exp($coefficient), error $error", ({ at, coefficient, error }) => {
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, status) ~ factor(voltage))
    const { ratio, logError } = found(commonShapeRatio(capacitorsByVoltage(), at, 0, wald));
    expectAgreement(Math.log(ratio.estimate), coefficient, { abs: 1e-7 });
    expectAgreement(logError, error, { rel: 1e-6 });
  });

  it("takes a group with one failure beside others, and a group of another unit", () => {
    const groups = [treated, lives("5 12+ 20+ 31+"), scaled(control, 1e-6)];
    const byProfile = found(commonShapeRatio(groups, 1, 2, profile)).ratio;
    expect(byProfile.low).toBeGreaterThan(1e6);
    expect(byProfile.low ?? 0).toBeLessThan(byProfile.estimate);
    expect(byProfile.high ?? 0).toBeGreaterThan(byProfile.estimate);
  });

  it("says what is missing, and refuses a group that is not there", () => {
    expect(commonShapeRatio([treated, lives("9+ 10+")], 0, 1, profile)).toEqual({
      found: false,
      reason: "in the second group there are no failures: no scale is too long for them",
    });
    expect(commonShapeRatio([lives("9")], 0, 1, profile)).toEqual({
      found: false,
      reason: "no group has two failures at different ages",
    });
    expect(() => commonShapeRatio([treated], 0, 1, profile)).toThrow("there are 1 groups");
  });
});

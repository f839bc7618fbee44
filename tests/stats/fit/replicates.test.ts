import { describe, expect, it } from "vitest";
import { bootstrapInterval } from "../../../src/stats/fit/bootstrap-interval.ts";
import { calibratedCutOff } from "../../../src/stats/fit/calibrated.ts";
import { pointOf } from "../../../src/stats/fit/fit.ts";
import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import { redrawer } from "../../../src/stats/fit/redraw.ts";
import { redrawPlan } from "../../../src/stats/fit/redraw-plan.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { likelihoodCutOff } from "../../../src/stats/level.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { FAMILIES, type Fitted, fitted, marked } from "./fitted.ts";

const L10: Quantity = { kind: "quantile", p: 0.1 };
const SHAPE: Quantity = { kind: "shape" };

function drawn({ lives, surface, fit }: Fitted, draws: number, seed: number) {
  const found = replicates(lives, surface, fit, { draws, seed });
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

/** The middles of `size` equal shares of a Weibull distribution of shape 1.5, scale 1000. */
function complete(size: number) {
  const time = Float64Array.from({ length: size }, (_, at) => 1000 * (-Math.log1p(-(at + 0.5) / size)) ** (1 / 1.5));
  return { time, failed: new Uint8Array(size).fill(1) };
}

describe("replicates", () => {
  const found = fitted(marked("54 187 216 240 244 335 361 373 375 386 500+x10"), "weibull");

  it("are the same whatever the number of draws, and others by another seed", () => {
    const fits = (draws: number, seed: number) => drawn(found, draws, seed).list.map(({ fit }) => fit);
    expect(fits(25, 7).slice(0, 6)).toEqual(fits(6, 7));
    expect(fits(6, 8)).not.toEqual(fits(6, 7));
  });

  it("are fitted as the sets drawn are, those with fewer than two failures drawn again and counted", () => {
    const few = fitted(marked("54 187 500+x18"), "weibull");
    const { list, redrawn } = drawn(few, 300, 3);
    const plan = redrawPlan(few.lives);
    if ("reason" in plan) throw new Error(plan.reason);
    const draw = redrawer(plan, few.family, pointOf(few.fit));
    let again = 0;
    for (const [number, { fit }] of list.entries()) {
      const stream = streamOf(3, number);
      let failures = draw(stream).exact.log.length;
      for (; failures < 2; failures = draw(stream).exact.log.length) again++;
      expect(fit.failures).toBe(failures);
    }
    expect(list.length).toBe(300);
    expect(again).toBeGreaterThan(50);
    expect(redrawn).toBe(again);
  });

  it("say why there are none", () => {
    const counted = { ...marked("10 20 30+"), count: Float64Array.of(1, 1, 30_000) };
    const { surface, fit } = fitted(counted, "weibull");
    expect(replicates(counted, surface, fit, { draws: 9, seed: 1 })).toEqual({
      reason: "there are too many lives to draw a thousand times",
    });
  });
});

describe("calibratedCutOff", () => {
  it.each([SHAPE, L10])("comes to the chi-square one with many failures: $kind", (quantity) => {
    const many = fitted(complete(400), "weibull");
    const cutOff = calibratedCutOff(many.surface, many.fit, quantity, 0.95, drawn(many, 999, 5).list);
    // The standard error of the 95 % quantile of 999 chi-squares is 0.23.
    expectAgreement(cutOff, likelihoodCutOff(0.95), { abs: 0.7 });
  });

  it.each([5, 7, 10])("lies above it with %d failures", (size) => {
    const few = fitted(complete(size), "weibull");
    const { list } = drawn(few, 999, 6);
    for (const quantity of [SHAPE, L10]) {
      const cutOff = calibratedCutOff(few.surface, few.fit, quantity, 0.95, list);
      expect(cutOff).toBeGreaterThan(likelihoodCutOff(0.95));
      expect(cutOff).toBeLessThan(8);
    }
  });

  it("is exact for an exponential mean: twice the log-likelihood ratio of a gamma mean of 5 failures", () => {
    // W = 10 (x - 1 - log x) with x gamma of shape 5 and mean 1; 95 % quantile by scipy 1.17.1:
    // brentq(lambda c: (lambda lo, hi: gamma.cdf(hi, 5, scale=.2) - gamma.cdf(lo, 5, scale=.2))(
    //   brentq(lambda x: 10*(x-1-log(x))-c, 1e-9, 1), brentq(lambda x: 10*(x-1-log(x))-c, 1, 50)) - .95, .1, 30)
    const few = fitted(complete(5), "exponential");
    const cutOff = calibratedCutOff(few.surface, few.fit, { kind: "mean" }, 0.95, drawn(few, 4999, 9).list);
    expectAgreement(cutOff, 3.96832, { abs: 0.4 });
  });

  it("takes the ratio at rank ceil(level * (draws + 1)), and grows with the level", () => {
    const few = fitted(complete(8), "weibull");
    const { list } = drawn(few, 99, 2);
    const ratios = list
      .map(({ surface, fit }) => ({ surface, fit }))
      .map((own) => calibratedCutOff(few.surface, few.fit, L10, 0.5, [own]))
      .sort((one, other) => one - other);
    expect(calibratedCutOff(few.surface, few.fit, L10, 0.95, list)).toBe(ratios[94]);
    expect(calibratedCutOff(few.surface, few.fit, L10, 0.5, list)).toBe(ratios[49]);
    expect(calibratedCutOff(few.surface, few.fit, L10, 0.999, list)).toBe(ratios[98]);
  });

  it.each(FAMILIES)("gives limits around the estimate, wider than the plain ones by cut-off alone: %s", (name) => {
    const own = fitted(marked("54 187 216 335 361+ 386 400+ 500+x2"), name);
    const { list } = drawn(own, 199, 4);
    for (const quantity of [{ kind: "mean" }, L10, { kind: "survival", time: 200 }] satisfies Quantity[]) {
      const cutOff = calibratedCutOff(own.surface, own.fit, quantity, 0.95, list);
      const plain = profileInterval(own.surface, own.fit, quantity, 0.95);
      const wider = profileInterval(own.surface, own.fit, quantity, 0.95, cutOff);
      expect((wider.low ?? 0) <= (plain.low ?? 0)).toBe(cutOff >= likelihoodCutOff(0.95));
    }
  });

  it("refuses no replicates, and a level outside its range", () => {
    const { surface, fit } = fitted(complete(5), "weibull");
    expect(() => calibratedCutOff(surface, fit, L10, 0.95, [])).toThrow("there are no replicates");
    expect(() => bootstrapInterval(surface, fit, L10, 0.95, [])).toThrow("there are no replicates");
    expect(() => bootstrapInterval(surface, fit, L10, 1, drawn(fitted(complete(5), "weibull"), 2, 1).list)).toThrow(
      RangeError,
    );
  });
});

describe("bootstrapInterval", () => {
  it("comes to the exact one of an exponential mean: 2 * total / chi-square", () => {
    // R 4.2.2: qchisq(c(.975, .025), 16), for 8 failures; the pivot (log drawn - log estimate) * sqrt(8) is exact.
    const own = fitted(complete(8), "exponential");
    const { low, high, estimate } = bootstrapInterval(
      own.surface,
      own.fit,
      { kind: "mean" },
      0.95,
      drawn(own, 4999, 1).list,
    );
    expectAgreement(low, (16 * estimate) / 28.8453507, { rel: 0.04 });
    expectAgreement(high, (16 * estimate) / 6.9076644, { rel: 0.06 });
  });

  it("leaves the exponential's shape at 1", () => {
    const own = fitted(complete(8), "exponential");
    expect(bootstrapInterval(own.surface, own.fit, SHAPE, 0.95, drawn(own, 19, 1).list)).toEqual({
      estimate: 1,
      low: 1,
      high: 1,
    });
  });

  it("has no limits of a mean that is infinite under many of the distributions drawn, and says so", () => {
    const own = fitted(marked("10 40 90 200 700"), "log-logistic");
    expect(own.fit.shape).toBeGreaterThan(1);
    const { list } = drawn(own, 99, 1);
    expect(list.filter(({ fit }) => fit.shape <= 1).length).toBeGreaterThan(5);
    const interval = bootstrapInterval(own.surface, own.fit, { kind: "mean" }, 0.95, list);
    expect(interval).toMatchObject({ low: null, high: null, reason: expect.stringContaining("the mean is infinite") });
    expect(calibratedCutOff(own.surface, own.fit, { kind: "mean" }, 0.95, list)).toBeLessThan(10);
  });
});

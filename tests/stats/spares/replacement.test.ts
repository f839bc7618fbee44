import { describe, expect, it } from "vitest";
import {
  costRate,
  replacementAge,
  replacementAgeOnGrid,
  replacementSaving,
  weibullDraws,
} from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const published = new PublishedCase("12d_age_replacement");

function found(age: ReturnType<typeof replacementAge>) {
  if (!age.found) throw new Error(age.reason);
  return age;
}

/** A Weibull curve of scale 1 at ages of equal distance. */
function curve(shape: number, longest: number, points: number) {
  const age = Float64Array.from({ length: points + 1 }, (_, at) => (longest * at) / points);
  return { age, survival: age.map((one) => Math.exp(-(one ** shape))) };
}

describe("replacementAge", () => {
  it("gives the published ages, costs and shares", () => {
    const { rows, tolerance } = published.table("optimum");
    expect(rows.length).toBe(4);
    for (const row of rows) {
      const best = found(
        replacementAge({ shape: row["shape"]!, scale: 1 }, { planned: 1, unplanned: row["cost_ratio"]! }),
      );
      expectAgreement(best.age, row["T_opt"]!, tolerance);
      expectAgreement(best.costRate, row["cost_rate"]!, tolerance);
      expectAgreement(best.runToFailureRate, row["run_to_failure_rate"]!, tolerance);
      expectAgreement(best.saving, row["saving"]!, tolerance);
      expectAgreement(best.plannedShare, row["p_planned"]!, tolerance);
      expectAgreement(best.meanInterval, row["mean_interval"]!, tolerance);
    }
  });

  it("is in the unit of the scale and the currency of the costs", () => {
    const best = found(replacementAge({ shape: 2, scale: 20_000 }, { planned: 300, unplanned: 1500 }));
    expectAgreement(best.age, 10_213.104, { rel: 1e-6 });
    expectAgreement(best.costRate, (4.08524179436 * 300) / 20_000, { rel: 1e-9 });
  });

  it("saves next to nothing at shape 1.2", () => {
    // by uniroot on the condition in R: age 1.593, saving 0.9 %
    const best = found(replacementAge({ shape: 1.2, scale: 1 }, { planned: 1, unplanned: 5 }));
    expectAgreement(best.age, 1.593, { abs: 5e-4 });
    expectAgreement(best.saving, 0.009, { abs: 5e-4 });
  });

  it("has no best age where the hazard does not rise, a failure costs no more, or next to no life reaches it", () => {
    const costs = { planned: 1, unplanned: 5 };
    for (const shape of [0.3, 1]) {
      expect(replacementAge({ shape, scale: 1 }, costs)).toEqual({
        found: false,
        reason: "the shape is not above 1: the hazard does not rise with age",
      });
    }
    expect(replacementAge({ shape: 3, scale: 1 }, { planned: 5, unplanned: 5 })).toMatchObject({ found: false });
    expect(replacementAge({ shape: 1.001, scale: 1 }, costs)).toMatchObject({
      found: false,
      reason: expect.stringContaining("next to no life"),
    });
    expect(replacementAge({ shape: 3, scale: Number.POSITIVE_INFINITY }, costs)).toMatchObject({ found: false });
    expect(() => replacementAge({ shape: 3, scale: 1 }, { planned: 0, unplanned: 5 })).toThrow("must be above 0");
    expect(() => replacementAge({ shape: Number.NaN, scale: 1 }, costs)).toThrow(RangeError);
  });

  it.each([
    { shape: 30, unplanned: 1e6 },
    { shape: 1.6, unplanned: 1.5 },
    { shape: 8, unplanned: 1.01 },
  ])("finds the lowest point of its own curve: shape $shape, cost ratio $unplanned", ({ shape, unplanned }) => {
    const costs = { planned: 1, unplanned };
    const best = found(replacementAge({ shape, scale: 1 }, costs));
    const beside = costRate(
      { shape, scale: 1 },
      costs,
      Float64Array.of(best.age * 0.97, best.age * 1.03, Number.POSITIVE_INFINITY),
    );
    for (const rate of beside) expect(rate).toBeGreaterThanOrEqual(best.costRate);
    expectAgreement(beside[2], best.runToFailureRate, { rel: 1e-12 });
  });
});

describe("costRate", () => {
  it("falls for ever where the shape is 1 or less", () => {
    const ages = Float64Array.of(0.1, 0.5, 2, 8, Number.POSITIVE_INFINITY);
    const rates = costRate({ shape: 0.8, scale: 1 }, { planned: 1, unplanned: 5 }, ages);
    for (let at = 1; at < rates.length; at++) expect(rates[at]).toBeLessThan(rates[at - 1]!);
    expect(() => costRate({ shape: 1, scale: 1 }, { planned: 1, unplanned: 5 }, Float64Array.of(0))).toThrow(
      RangeError,
    );
    expect([
      ...costRate({ shape: 1, scale: Number.POSITIVE_INFINITY }, { planned: 1, unplanned: 5 }, Float64Array.of(4)),
    ]).toEqual([0.25]);
  });
});

describe("replacementAgeOnGrid", () => {
  const costs = { planned: 1, unplanned: 5 };

  it("finds exactly 0.5 and 8 for lives uniform on 0 to 1", () => {
    // by hand: (1 + 4t) / (t - t^2 / 2) is least at 0.5: 3 / 0.375 = 8; at failure alone 5 / 0.5 = 10
    const expected = {
      found: true,
      age: 0.5,
      costRate: 8,
      runToFailureRate: 10,
      plannedShare: 0.5,
      meanInterval: 0.375,
    };
    expect(replacementAgeOnGrid({ age: Float64Array.of(0, 1), survival: Float64Array.of(1, 0) }, costs)).toMatchObject(
      expected,
    );
    const fine = Float64Array.from({ length: 101 }, (_, at) => at / 100);
    const best = found(replacementAgeOnGrid({ age: fine, survival: fine.map((age) => 1 - age) }, costs));
    expectAgreement(best.age, 0.5, { rel: 1e-9 });
    expectAgreement(best.costRate, 8, { rel: 1e-12 });
  });

  it("finds the published age of Weibull lives from their curve", () => {
    const best = found(replacementAgeOnGrid(curve(2, 6, 4000), costs));
    // 12d, shape 2, ratio 5
    expectAgreement(best.age, 0.510655224295, { abs: 2e-3 });
    expectAgreement(best.costRate, 4.08524179436, { rel: 1e-5 });
    expectAgreement(best.saving, 0.27590974497, { rel: 1e-4 });
  });

  it("replaces just before lives all end at once", () => {
    // by hand: all live to 2 and none longer: 1 / 2 a unit of time, where failure costs 5 / 2
    const drop = { age: Float64Array.of(0, 2, 2, 3), survival: Float64Array.of(1, 1, 0, 0) };
    expect(replacementAgeOnGrid(drop, costs)).toMatchObject({
      found: true,
      age: 2,
      costRate: 0.5,
      saving: 0.8,
      plannedShare: 1,
    });
  });

  it("says where nothing is gained, or the curve ends too early", () => {
    expect(replacementAgeOnGrid(curve(1, 40, 800), costs)).toMatchObject({ found: false });
    expect(replacementAgeOnGrid(curve(2, 0.4, 100), costs)).toMatchObject({
      reason: "the cost still falls where the curve ends",
    });
    expect(replacementAgeOnGrid(curve(2, 4, 100), { planned: 2, unplanned: 1 })).toMatchObject({ found: false });
    for (const wrong of [
      { age: Float64Array.of(0, 1), survival: Float64Array.of(1) },
      { age: Float64Array.of(0, 1, 0.5), survival: Float64Array.of(1, 0.5, 0.2) },
      { age: Float64Array.of(0, 1), survival: Float64Array.of(0.9, 0.5) },
      { age: Float64Array.of(0, 1), survival: Float64Array.of(1, Number.NaN) },
      { age: new Float64Array(0), survival: new Float64Array(0) },
      { age: Float64Array.of(0, 0), survival: Float64Array.of(1, 0) },
    ]) {
      expect(() => replacementAgeOnGrid(wrong, costs)).toThrow(RangeError);
    }
  });
});

describe("replacementSaving", () => {
  const costs = { planned: 1, unplanned: 5 };

  it("is the published saving where the law is known", () => {
    const draws = { shape: new Float64Array(9).fill(2), scale: new Float64Array(9).fill(1) };
    const saving = replacementSaving(draws, costs, { age: 0.510655224295, level: 0.8 });
    for (const one of [saving.low, saving.median, saving.high]) expectAgreement(one, 0.27590974497, { rel: 1e-6 });
    expectAgreement(saving.amount.median, 5.64189583548 - 4.08524179436, { rel: 1e-6 });
    expect(saving).toMatchObject({ chanceOfSaving: 1, chanceOfBestAge: 1 });
    expectAgreement(saving.bestAge?.low, 0.510655224295, { rel: 1e-6 });
  });

  it("costs under some laws where the shape is not known", () => {
    const { draws } = weibullDraws(
      {
        shape: 1.2,
        scale: 1,
        covariance: [
          [0.02, 0],
          [0, 0.06],
        ],
      },
      { draws: 400, seed: 5 },
    );
    const saving = replacementSaving(draws, costs, { age: 0.6, level: 0.9 });
    expect(saving.low).toBeLessThan(0);
    expect(saving.high).toBeGreaterThan(0);
    expect(saving.chanceOfSaving).toBeGreaterThan(0.02);
    expect(saving.chanceOfSaving).toBeLessThan(0.98);
    // P(shape > 1) = P(Z > log(1 / 1.2) / sqrt(0.06)) = 0.772 (R: pnorm); standard error 0.021
    expectAgreement(saving.chanceOfBestAge, 0.772, { abs: 0.07 });
  });

  it("has no limits for ages that few draws have", () => {
    const draws = { shape: Float64Array.of(0.9, 0.8, 2), scale: Float64Array.of(1, 1, 1) };
    expect(replacementSaving(draws, costs, { age: 1, level: 0.8 }).bestAge).toBeNull();
    expect(() => replacementSaving(draws, costs, { age: 0, level: 0.8 })).toThrow(RangeError);
    expect(() =>
      replacementSaving({ shape: new Float64Array(0), scale: new Float64Array(0) }, costs, { age: 1, level: 0.8 }),
    ).toThrow(RangeError);
  });
});

import { describe, expect, it } from "vitest";
import { conditionalFailure, residualMean, residualQuantile } from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const { rows, tolerance } = new PublishedCase("12c_aged_item").table("conditional");
const fleet = new PublishedCase("12e_fleet_forecast").table("per_pump");

describe("conditionalFailure, residualQuantile and residualMean", () => {
  it("give the published chances and residual lives", () => {
    expect(rows.length).toBe(48);
    for (const row of rows) {
      const life = { shape: row["shape"]!, scale: row["scale"]!, age: row["age"]! };
      const what = JSON.stringify(row);
      expectAgreement(conditionalFailure(life, row["horizon"]!), row["p_fail"]!, tolerance, what);
      expectAgreement(residualQuantile(life, 0.5), row["residual_median"]!, tolerance, what);
      expectAgreement(residualMean(life), row["residual_mean"]!, tolerance, what);
    }
    for (const row of fleet.rows) {
      const life = { shape: 2, scale: 20_000, age: row["hours_since_rebuild"]! };
      expectAgreement(conditionalFailure(life, 4000), row["p_fail"]!, fleet.tolerance);
    }
  });

  it("add up to the expected failures of four running units", () => {
    // by hand: 1 - exp((a / 30000)^1.5 - ((a + 4000) / 30000)^1.5): 0.0918, 0.1276, 0.1574, 0.1892
    const ages = [5000, 12_000, 20_000, 31_000];
    const sum = ages.reduce((all, age) => all + conditionalFailure({ shape: 1.5, scale: 30_000, age }, 4000), 0);
    expectAgreement(sum, 0.5659, { abs: 1e-4 });
  });

  it.each([
    // python3, mpmath at 40 digits: gammainc(1 / shape, age**shape) * exp(age**shape) / shape
    { shape: 3, age: 20, mean: 0.000833263903351661 },
    { shape: 0.5, age: 1e6, mean: 2002.0 },
    { shape: 30, age: 1.2, mean: 0.000167828206970425 },
    { shape: 0.1, age: 2, mean: 10598105.6062915 },
    { shape: 8, age: 2.3, mean: 0.000366716789515213 },
  ])("hold far out: $shape, $age", ({ shape, age, mean }) => {
    expectAgreement(residualMean({ shape, scale: 1, age }), mean, { rel: 1e-9 });
  });

  it("keep their precision for a short time and a great age, and where nothing fails", () => {
    // by hand: hazard 2 t / scale^2 = 2e-6 at an age of 1, over 1e-9: 2e-15
    expectAgreement(conditionalFailure({ shape: 2, scale: 1000, age: 1 }, 1e-9), 2e-15, { rel: 1e-8 });
    // an exponential life is new at any age
    expectAgreement(residualQuantile({ shape: 1, scale: 1, age: 1e12 }, 0.5), Math.LN2, { rel: 1e-9 });
    expectAgreement(residualMean({ shape: 1, scale: 1, age: 1e12 }), 1, { rel: 1e-9 });
    const never = { shape: 2, scale: Number.POSITIVE_INFINITY, age: 5 };
    expect(conditionalFailure(never, 1e9)).toBe(0);
    expect([residualQuantile(never, 0.5), residualMean(never)]).toEqual([never.scale, never.scale]);
    expect(residualQuantile({ shape: 2, scale: 1 }, 0)).toBe(0);
  });

  it("refuse what is out of range", () => {
    const life = { shape: 2, scale: 1000, age: 10 };
    expect(() => conditionalFailure(life, -1)).toThrow(RangeError);
    expect(() => conditionalFailure({ ...life, age: -1 }, 1)).toThrow(RangeError);
    expect(() => residualQuantile(life, 1)).toThrow(RangeError);
    expect(() => residualMean({ ...life, shape: 0 })).toThrow(RangeError);
  });
});

import { describe, expect, it } from "vitest";
import type { Covariate } from "../../../src/stats/regression/covariates.ts";
import { likelihoodRatioTest } from "../../../src/stats/regression/likelihood-ratio-test.ts";
import { type NaturalSpline, naturalSpline, splineColumns } from "../../../src/stats/regression/natural-spline.ts";
import { waldContrast } from "../../../src/stats/regression/wald-contrast.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, lung, lungModel } from "./hazard-cases.ts";

const { lives, covariates } = lungModel(["age", "sex"]);
const [age, sex] = covariates as [Covariate, Covariate];
const of = (...columns: Covariate[]) => fitted({ lives, covariates: [sex, ...columns] });

function laid(): NaturalSpline {
  const found = naturalSpline(age.values, { df: 3 });
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

/** The figures of a part of the published case, every one of which is asked for. */
function expectFigures(prefix: string, figures: Record<string, number>): void {
  const published = lung.values(prefix);
  expect(published.map(({ rest }) => rest).toSorted()).toEqual(Object.keys(figures).toSorted());
  for (const { rest, value, tolerance } of published) {
    expectAgreement(figures[rest], Number(value), tolerance, `${prefix}${rest}`);
  }
}

describe("a published effect of age that may bend", () => {
  const straight = of(age);
  const none = of();

  it("is found as a parabola", () => {
    const middle = age.values.map((years) => years - 62);
    const bent = of({ name: "linear", values: middle }, { name: "square", values: middle.map((years) => years ** 2) });
    const test = likelihoodRatioTest(straight, bent);
    expectFigures("quadratic.", {
      "coef.linear": bent.coefficients[1]!,
      "coef.square": bent.coefficients[2]!,
      "se.square": Math.sqrt(bent.covariance[2]![2]!),
      loglik: bent.logLikelihood,
      lr_vs_linear_chisq: test.chiSquare,
      lr_vs_linear_p: test.p,
    });
  });

  it("is found as a natural cubic spline", () => {
    const spline = laid();
    const columns = splineColumns(spline, age.values).map((values, at) => ({ name: `age ${at}`, values }));
    const curved = of(...columns);
    const [bent, any] = [likelihoodRatioTest(straight, curved), likelihoodRatioTest(none, curved)];
    expectFigures("spline.", {
      boundary_lo: spline.low,
      knot1: spline.knots[0]!,
      knot2: spline.knots[1]!,
      boundary_hi: spline.high,
      loglik: curved.logLikelihood,
      loglik_linear: straight.logLikelihood,
      loglik_no_age: none.logLikelihood,
      nonlinearity_chisq: bent.chiSquare,
      nonlinearity_p: bent.p,
      overall_chisq: any.chiSquare,
      overall_p: any.p,
    });
    const { rows, tolerance } = lung.table("spline_log_hr_vs_age60");
    expect(rows.length).toBe(5);
    const at = (years: number) => splineColumns(spline, Float64Array.of(years)).map(([value]) => value!);
    for (const row of rows) {
      const weights = [0, ...at(row["age"]!).map((value, one) => value - at(60)[one]!)];
      const found = waldContrast(curved.coefficients, curved.covariance, weights, 0.95);
      expectAgreement(found.estimate, row["log_hr"]!, tolerance, `at ${row["age"]}`);
      expectAgreement(found.error, row["se"]!, tolerance, `error at ${row["age"]}`);
    }
  });
});

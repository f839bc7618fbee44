import { describe, expect, it } from "vitest";
import { likelihoodRatioTest } from "../../../src/stats/regression/likelihood-ratio-test.ts";
import { type NaturalSpline, naturalSpline, splineColumns } from "../../../src/stats/regression/natural-spline.ts";
import { waldContrast } from "../../../src/stats/regression/wald-contrast.ts";
import { expectAgreement } from "../../agree.ts";
import { column, fitted, lung } from "./regression-data.ts";

function laid(found: ReturnType<typeof naturalSpline>): NaturalSpline {
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

/** End plays, thou, made up. */
const plays = Float64Array.of(4.4, 2.1, 2.4, 3, 3, 3.3, 3.9, 4.4, 4.4, 5.2, 5.7, 6.1, 6.8, 7.5);

describe("naturalSpline", () => {
  it("lays the published knots of the lung data", () => {
    const { case: published } = lung("age");
    const { low, knots, high } = laid(naturalSpline(published.numbers("age"), { df: 3 }));
    const known = ["boundary_lo", "knot1", "knot2", "boundary_hi"].map(
      (name) => published.value(`spline.${name}`).value,
    );
    expect([low, ...knots, high]).toEqual(known);
  });

  // R 4.2.2: attr(splines::ns(x, df = df, Boundary.knots = ...), "knots")
  it.each([
    { shape: { df: 1 }, knots: [] },
    { shape: { df: 2 }, knots: [4.4] },
    { shape: { df: 3 }, knots: [3.5, 4.933333333333334] },
    { shape: { df: 5 }, knots: [3.0, 4.0, 4.4, 5.86] },
    { shape: { df: 4, boundaryKnots: [3, 6.5] as const }, knots: [3.45, 4.4, 5.0] },
  ])("lays knots at the quantiles that R takes: $shape", ({ shape, knots }) => {
    const found = laid(naturalSpline(plays, shape));
    expect(found.knots.length).toBe(knots.length);
    for (const [at, knot] of knots.entries()) expectAgreement(found.knots[at], knot, { abs: 1e-14 });
  });

  it("takes knots as given", () => {
    expect(naturalSpline(plays, { knots: [3, 5], boundaryKnots: [2, 7] })).toEqual({ low: 2, knots: [3, 5], high: 7 });
  });

  it.each([
    { name: "one value", values: [3, 3, 3, 3], reason: "too few different values: knots at 3, 3, 3, 3 fall together" },
    {
      name: "mostly one value",
      values: [3, 3, 3, 3, 3, 3, 5],
      reason: "too few different values: knots at 3, 3, 3, 5 fall together",
    },
    {
      name: "three values",
      values: [1, 2, 3],
      reason: "too few different values: 3, where a curve with 3 degrees of freedom needs 4",
    },
  ])("says why there can be none: $name", ({ values, reason }) => {
    expect(naturalSpline(Float64Array.from(values), { df: 3 })).toEqual({ reason });
  });

  it.each([
    { name: "no values", values: [], shape: { df: 3 } },
    { name: "a value that is none", values: [1, Number.NaN, 2], shape: { df: 3 } },
    { name: "no degrees", values: [1, 2, 3], shape: { df: 0 } },
    { name: "half a degree", values: [1, 2, 3], shape: { df: 1.5 } },
    { name: "knots that fall", values: [1, 2, 3, 4], shape: { knots: [3, 2] } },
    { name: "outer knots that fall", values: [1, 2, 3, 4], shape: { df: 2, boundaryKnots: [4, 1] as const } },
  ])("is wrong to be called with $name", ({ values, shape }) => {
    expect(() => naturalSpline(Float64Array.from(values), shape)).toThrow(RangeError);
  });
});

describe("splineColumns", () => {
  // R 4.2.2, survival 3.5-3, splines: survreg(Surv(time, event) ~ sex + ns(age, 3), lung), ~ sex + age and ~ sex, rel.tolerance 1e-14: their
  // log-likelihoods, and coefficients times ns(at) - ns(60) with their standard errors; 30 and 90 lie beyond the ages seen
  const KNOWN = [
    {
      family: "weibull" as const,
      logLikelihoods: [-1146.148079164, -1147.054431432, -1148.651564682],
      curve: [
        [30, 0.71002185171205, 0.7151015318664],
        [45, 0.22427306310193, 0.23919912617923],
        [55, 0.01118383614356, 0.05447963323577],
        [65, 0.0318238351381, 0.0844606343421],
        [75, -0.24605410519916, 0.15406445195079],
        [80, -0.55629937575316, 0.28787216321976],
        [90, -1.23630099238062, 0.67328629514163],
      ],
    },
    {
      family: "lognormal" as const,
      logLikelihoods: [-1157.479789104, -1158.750142594, -1162.616018532],
      curve: [
        [30, 1.026813255379922, 0.82855961251447],
        [45, 0.353433143017134, 0.27552430015584],
        [55, 0.040030117097921, 0.06540415535249],
        [65, 0.007891462491196, 0.10330351993875],
        [75, -0.457742716696349, 0.19719855594201],
        [80, -0.927273477451608, 0.36201186618111],
        [90, -1.948519722558006, 0.83234873653178],
      ],
    },
  ];

  it.each(KNOWN)("spans the curves that R's do: $family", ({ family, logLikelihoods, curve }) => {
    const { lives, covariates } = lung("age", "sex");
    const [age, sex] = covariates;
    const spline = laid(naturalSpline(age!.values, { df: 3 }));
    const columns = splineColumns(spline, age!.values).map((values, at) => column(`age ${at}`, values));
    const curved = fitted({ lives, covariates: [sex!, ...columns] }, family);
    const straight = fitted({ lives, covariates: [sex!, age!] }, family);
    const none = fitted({ lives, covariates: [sex!] }, family);
    for (const [at, fit] of [curved, straight, none].entries()) {
      expectAgreement(fit.logLikelihood, logLikelihoods[at]!, { abs: 1e-8 });
    }
    const bent = likelihoodRatioTest(straight, curved);
    expect(bent.degrees).toBe(2);
    expectAgreement(bent.chiSquare, 2 * (logLikelihoods[0]! - logLikelihoods[1]!), { abs: 2e-8 });
    // By hand: the tail of chi-square with 2 degrees is exp(-x / 2).
    expectAgreement(bent.p, Math.exp(logLikelihoods[1]! - logLikelihoods[0]!), { rel: 1e-7 });
    const [from, ...to] = [[60], ...curve].map(([at]) =>
      splineColumns(spline, Float64Array.of(at!)).map(([value]) => value!),
    );
    for (const [at, [, ratio, error]] of curve.entries()) {
      const weights = [0, 0, ...to[at]!.map((value, one) => value - from![one]!)];
      const found = waldContrast(curved.coefficients, curved.covariance, weights, 0.95);
      expectAgreement(found.estimate, ratio!, { abs: 1e-8 }, `at ${curve[at]![0]}`);
      expectAgreement(found.error, error!, { rel: 1e-7 }, `error at ${curve[at]![0]}`);
    }
  });

  it("is straight beyond the outer knots and cubic within", () => {
    const spline = { low: 0, knots: [1, 2], high: 4 };
    const at = (from: number) => splineColumns(spline, Float64Array.of(from, from + 1, from + 2, from + 3, from + 4));
    for (const values of [...at(-9), ...at(4)]) {
      for (const place of [0, 1, 2])
        expectAgreement(values[place]! - 2 * values[place + 1]! + values[place + 2]!, 0, { abs: 1e-10 });
    }
    for (const values of splineColumns(spline, Float64Array.of(2, 2.5, 3, 3.5, 4))) {
      const fourth = values[0]! - 4 * values[1]! + 6 * values[2]! - 4 * values[3]! + values[4]!;
      expectAgreement(fourth, 0, { abs: 1e-13 });
    }
  });

  it("refuses a value that is none", () => {
    expect(() => splineColumns({ low: 0, knots: [1], high: 2 }, Float64Array.of(Number.NaN))).toThrow(RangeError);
  });
});

import { describe, expect, it } from "vitest";
import { bestNear, hazardSeries, hazardSumsNear, isNear } from "../../../src/stats/weibull/hazard-series.ts";
import { expectAgreement } from "../../agree.ts";

/** Log ages of a Weibull distribution about their mean, one life in ten counted twice, one entered late. */
const z = Float64Array.from({ length: 500 }, (_, at) => Math.log(-Math.log1p(-(at + 0.5) / 500)) / 1.8 + 0.32);
const weight = z.map((_, at) => (at % 10 === 3 ? 2 : at % 10 === 7 ? -1 : 1));
const at = { level: -0.6, shape: 1.8 };

function termByTerm({ level, shape }: typeof at) {
  const sum = (power: number) =>
    z.reduce((total, place, term) => total + weight[term]! * Math.exp(level + shape * place) * place ** power, 0);
  return { zero: sum(0), one: sum(1), two: sum(2) };
}

describe("hazardSumsNear", () => {
  const series = hazardSeries({ z, weight }, at);

  it.each([
    { level: -0.6, shape: 1.8 },
    { level: -0.62, shape: 1.82 },
    { level: 1.4, shape: 1.775 },
  ])("gives the sums taken term by term at $level, $shape", (near) => {
    const expected = termByTerm(near);
    const found = hazardSumsNear(series, near);
    expect(isNear(series, near)).toBe(true);
    for (const part of ["zero", "one", "two"] as const) {
      expectAgreement(found[part], expected[part], { rel: 1e-12 }, part);
    }
  });

  it("is not to be trusted farther out, where the sums are less exact than 1e-9", () => {
    const far = { level: -0.6, shape: 2.2 };
    expect(isNear(series, far)).toBe(false);
    expect(Math.abs(hazardSumsNear(series, far).two / termByTerm(far).two - 1)).toBeGreaterThan(1e-9);
  });
});

describe("bestNear", () => {
  // Failures expected at a point are made those seen there, so that the point is the maximum.
  const { zero, one } = termByTerm(at);
  const lives = { exact: zero, exactSum: one - zero / at.shape };

  it.each([
    { level: -0.6, shape: 1.8 },
    { level: -0.9, shape: 1.81 },
    { level: 0.4, shape: 1.79 },
  ])("finds the maximum from $level, $shape", (start) => {
    const found = bestNear(hazardSeries({ z, weight }, start), lives);
    expectAgreement(found?.shape, at.shape, { rel: 1e-12 });
    expectAgreement(found?.level, at.level, { rel: 1e-12 });
  });

  it("finds none where the sums are not those of a hill", () => {
    const entered = { z, weight: weight.map((times) => -times) };
    expect(bestNear(hazardSeries(entered, at), lives)).toBeNull();
  });
});

import { describe, expect, it } from "vitest";
import type { IntervalLives } from "../../../src/stats/lives.ts";
import { hazardSeries } from "../../../src/stats/regression/hazard-series.ts";
import { type AcceleratedFamily, lifeModel } from "../../../src/stats/regression/life-model.ts";
import { expectAgreement } from "../../agree.ts";
import { column, referenceLives } from "./regression-data.ts";

const size = 700;
const low = Float64Array.from({ length: size }, (_, row) => 300 + 900 * Math.abs(Math.sin(3 * row + 1)));
const lives: IntervalLives = {
  low,
  high: low.map((age, row) => (row % 3 === 0 ? Number.POSITIVE_INFINITY : age)),
  entry: low.map((age, row) => (row % 5 === 0 ? age / 2 : 0)),
  count: low.map((_, row) => 1 + (row % 2)),
};
const covariates = [
  column(
    "x",
    low.map((_, row) => Math.cos(5 * row)),
  ),
  column(
    "g",
    low.map((_, row) => (row % 4 === 0 ? 1 : 0)),
  ),
];

function seriesAt(family: AcceleratedFamily, start: Float64Array) {
  const model = lifeModel(lives, covariates, family);
  const series = hazardSeries(model.rows, model.family, start, model.likelihood.at(start));
  if (series === null) throw new Error("there is a series for these lives");
  return { series, at: model.likelihood.at };
}

describe("hazardSeries", () => {
  it.each([
    { family: "weibull", start: [-0.7, 0.3, -0.2, 1.6], way: [0.8, -0.5, 0.3, 0.7] },
    { family: "exponential", start: [-0.7, 0.3, -0.2], way: [0.8, -0.5, 0.3] },
  ] as const)("misses by the third power of the distance, its second derivatives by the second: $family", (asked) => {
    const start = Float64Array.from(asked.start);
    const { series, at } = seriesAt(asked.family, start);
    const missed = (distance: number) => {
      const theta = start.map((value, one) => value + distance * asked.way[one]!);
      const [found, exact] = [{ slope: series.slopeAt(theta), bend: series.bendAt(theta) }, at(theta)];
      return {
        slope: Math.max(...found.slope.map((value, one) => Math.abs(value - exact.slope[one]!))),
        bend: Math.max(...found.bend.map((value, one) => Math.abs(value - exact.bend[one]!))),
      };
    };
    // By Taylor: a tenth of the distance leaves a thousandth and a hundredth.
    const [far, near] = [missed(0.1), missed(0.01)];
    expect(far.slope).toBeGreaterThan(1e-3);
    expectAgreement(near.slope / far.slope, 1e-3, { rel: 0.25 });
    expectAgreement(near.bend / far.bend, 1e-2, { rel: 0.25 });
    expect(missed(0)).toEqual({ slope: 0, bend: 0 });
  });

  it("there is none where a failure lies within an interval, or the law has other terms", () => {
    const all = referenceLives("all");
    const start = Float64Array.of(0, 0, 0, 1);
    const of = (given: typeof all.lives, columns: typeof covariates, family: AcceleratedFamily) => {
      const model = lifeModel(given, columns, family);
      return hazardSeries(model.rows, model.family, start, model.likelihood.at(start));
    };
    expect(of(all.lives, all.covariates, "weibull")).toBeNull();
    expect(of(lives, covariates, "lognormal")).toBeNull();
    expect(of(lives, covariates, "weibull")).not.toBeNull();
  });
});

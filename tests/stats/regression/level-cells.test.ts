import { describe, expect, it } from "vitest";
import type { IntervalLives } from "../../../src/stats/lives.ts";
import { hazardSeries } from "../../../src/stats/regression/hazard-series.ts";
import { lifeModel, partOf } from "../../../src/stats/regression/life-model.ts";
import { expectAgreement } from "../../agree.ts";
import { column } from "./regression-data.ts";

const size = 900;
const low = Float64Array.from({ length: size }, (_, row) => 300 + 900 * Math.abs(Math.sin(3 * row + 1)));
const lives: IntervalLives = {
  low,
  high: low.map((age, row) => (row % 3 === 0 ? Number.POSITIVE_INFINITY : age)),
  entry: low.map((age, row) => (row % 5 === 0 ? age / 2 : 0)),
  count: low.map((_, row) => row % 4),
};
const of = (value: (row: number) => number) => low.map((_, row) => value(row));
const x = of((row) => 40 + 3 * Math.cos(5 * row));
const g = of((row) => (row % 7 < 3 ? 1 : 0));
const h = of((row) => (row % 11 < 2 ? 1 : 0));
/** A value, two levels, another value, a product of levels, and of a value with a level. */
const covariates = [
  column("x", x),
  column("g", g),
  column("h", h),
  column(
    "y",
    of((row) => Math.sin(row)),
  ),
  column(
    "g x h",
    of((row) => g[row]! * h[row]!),
  ),
  column(
    "x x h",
    of((row) => x[row]! * h[row]!),
  ),
];
const levels = [-0.7, 0.3, -0.2, 0.15, 0.4, -0.1, 0.25];

describe("levelCells", () => {
  it.each([
    { family: "weibull", theta: [...levels, 1.6] },
    { family: "exponential", theta: levels },
  ] as const)("sums up what the rows one by one do: $family", ({ family, theta }) => {
    const model = lifeModel(lives, covariates, family);
    expect(model.cells!.start.length).toBe(5);
    expect(model.cells!.terms.columns.length).toBe(2);
    const plain = partOf(model, Int32Array.from(low.keys()));
    const at = Float64Array.from(theta);
    const [found, expected] = [model.likelihood.at(at), plain.likelihood.at(at)];
    const slopes = model.likelihood.slopesAt(at);
    const series = (of: typeof model) => hazardSeries(of.rows, of.family, at, expected, of.cells)!;
    const near = at.map((value, one) => value + 0.05 * Math.cos(one));
    const [own, other] = [series(model), series(plain)];
    expectAll([found.value, slopes.value], [expected.value, expected.value]);
    expectAll(found.slope, expected.slope);
    expectAll(slopes.slope, expected.slope);
    expectAll(found.bend, expected.bend);
    expectAll(own.slopeAt(near), other.slopeAt(near));
    expectAll(own.bendAt(near), other.bendAt(near));
  });

  it("are none where fewer than three columns have two values, or rows are few", () => {
    const [one, g, h, , both] = covariates;
    expect(lifeModel(lives, [one!, g!, h!], "weibull").cells).toBeNull();
    expect(lifeModel(lives, [one!, g!, h!, both!], "weibull").cells).not.toBeNull();
    const few = { low: low.slice(0, 20), high: lives.high.slice(0, 20) };
    const short = [g!, h!, both!].map(({ name, values }) => column(name, values.slice(0, 20)));
    expect(lifeModel(few, short, "weibull").cells).toBeNull();
  });
});

function expectAll(found: ArrayLike<number>, expected: ArrayLike<number>): void {
  expect(found.length).toBe(expected.length);
  const size = Math.max(...Array.from(expected, Math.abs));
  for (let at = 0; at < expected.length; at++) {
    expectAgreement(found[at], expected[at]!, { rel: 1e-12, abs: 1e-13 * size }, `figure ${at}`);
  }
}

import studentQuantile from "@stdlib/stats-base-dists-t-quantile";
import { describe, expect, it } from "vitest";
import { jackknife, jackknifeInterval } from "../../../src/stats/fit/jackknife.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import type { IntervalLives } from "../../../src/stats/lives.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { FAMILIES, type Fitted, fitted, marked } from "./fitted.ts";

const endless = Number.POSITIVE_INFINITY;
/** Lives of every kind, with late entries and counts, of six units. */
const lives: IntervalLives = {
  low: Float64Array.of(120, 250, 310, 455, 520, 610, 700, 810, 905, 1100, 300, 500, 800, 0, 0, 400, 700, 1000),
  high: Float64Array.of(
    120,
    250,
    310,
    455,
    520,
    610,
    700,
    810,
    905,
    1100,
    endless,
    endless,
    endless,
    200,
    450,
    600,
    900,
    1400,
  ),
  entry: Float64Array.of(0, 0, 100, 0, 400, 0, 0, 0, 850, 0, 0, 0, 200, 0, 0, 0, 500, 0),
  count: Float64Array.of(1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 3, 1, 2, 1, 2, 1),
};
const unit = Int32Array.of(7, 7, 7, 0, 0, 0, 3, 3, 3, 9, 9, 9, 11, 11, 11, 12, 12, 12);

function withoutRows(of: IntervalLives, drop: (row: number) => boolean): IntervalLives {
  const rows = Array.from(of.low.keys()).filter((row) => !drop(row));
  const pick = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  return { low: pick(of.low), high: pick(of.high), entry: pick(of.entry!), count: pick(of.count!) };
}

function leftOut({ lives: of, surface, fit }: Fitted, cluster: Int32Array, seed = 1) {
  const found = jackknife(of, cluster, surface, fit, seed);
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

describe("jackknife", () => {
  it.each(FAMILIES)("leaves each unit out as a fit of the others does: %s", (name) => {
    const { without } = leftOut(fitted(lives, name), unit);
    expect(without.length).toBe(6);
    for (const [at, one] of [7, 0, 3, 9, 11, 12].entries()) {
      const { fit } = fitted(
        withoutRows(lives, (row) => unit[row] === one),
        name,
      );
      expectAgreement(without[at]!.a, Math.log(fit.scale), { abs: 1e-8 }, `log scale without ${one}`);
      expectAgreement(without[at]!.e, Math.log(fit.shape), { abs: 1e-8 }, `log shape without ${one}`);
    }
  });

  it("leaves each unit out as a fit of the others does where no failure lies within an interval", () => {
    const exact = withoutRows(lives, (row) => lives.high[row] !== lives.low[row] && lives.high[row] !== endless);
    const units = unit.filter((_, row) => lives.high[row] === lives.low[row] || lives.high[row] === endless);
    const { without } = leftOut(fitted(exact, "weibull"), units);
    const numbers = [...new Set(units)];
    expect(without.length).toBe(numbers.length);
    for (const [at, one] of numbers.entries()) {
      const { fit } = fitted(
        withoutRows(exact, (row) => units[row] === one),
        "weibull",
      );
      expectAgreement(without[at]!.a, Math.log(fit.scale), { abs: 1e-10 }, `log scale without ${one}`);
      expectAgreement(without[at]!.e, Math.log(fit.shape), { abs: 1e-10 }, `log shape without ${one}`);
    }
  });

  it("puts over 200 units together in 200, by the seed", () => {
    const stream = streamOf(5, 0);
    const time = Float64Array.from({ length: 900 }, () => 1000 * (-Math.log(1 - stream.uniform())) ** (1 / 1.5));
    const many = fitted({ time, failed: new Uint8Array(900).fill(1) }, "weibull");
    const cluster = Int32Array.from(time, (_, life) => Math.floor(life / 2));
    const once = leftOut(many, cluster, 3).without;
    expect(once.length).toBe(200);
    expect(leftOut(many, cluster, 3).without).toEqual(once);
    expect(leftOut(many, cluster, 4).without).not.toEqual(once);
    // Each lacks 2 or 3 of 450 pairs of lives: all are near the fit, none is it, and no two are alike.
    for (const { e } of once) {
      expectAgreement(e, Math.log(many.fit.shape), { abs: 0.05 });
      expect(e).not.toBe(Math.log(many.fit.shape));
    }
    expect(new Set(once.map(({ e }) => e)).size).toBe(200);
  });

  it("says why there is none", () => {
    const few = fitted(marked("10 20 30+ 40+"), "weibull");
    expect(jackknife(few.lives, Int32Array.of(1, 1, 1, 1), few.surface, few.fit, 1)).toEqual({
      reason: "all lives are of one unit",
    });
    expect(jackknife(few.lives, Int32Array.of(1, 2, 3, 4), few.surface, few.fit, 1)).toEqual({
      reason: "without one unit fewer than two failures are left",
    });
    const three = fitted(marked("10 20 20 15+"), "weibull");
    expect(jackknife(three.lives, Int32Array.of(1, 2, 2, 3), three.surface, three.fit, 1)).toEqual({
      reason: "without one unit the lives left can't be fitted",
    });
    const one = fitted(marked("10 20+"), "exponential");
    expect(jackknife(one.lives, Int32Array.of(1, 2), one.surface, one.fit, 1)).toEqual({
      reason: "without one unit no failure is left",
    });
    expect(() => jackknife(few.lives, Int32Array.of(1, 2), few.surface, few.fit, 1)).toThrow("2 clusters for 4 rows");
  });
});

describe("jackknifeInterval", () => {
  const quantities: Quantity[] = [
    { kind: "shape" },
    { kind: "quantile", p: 0.1 },
    { kind: "mean" },
    { kind: "survival", time: 400 },
    { kind: "conditional", age: 300, further: 200 },
  ];

  it.each(quantities)(
    "of $kind: the estimate less its bias, by t times the jackknife error, from fits of the others",
    (quantity) => {
      // Ten pairs of exact lives, alike enough that no unit weighs much: excess kurtosis below 0, so 9 degrees of freedom.
      const pairs = marked("110 900 150 800 190 700 230 640 260 600 300 560 340 530 380 500 420 480 450 460");
      const own = fitted(pairs, "weibull");
      const cluster = Int32Array.from({ length: 20 }, (_, life) => life % 10);
      const survives = quantity.kind === "survival" || quantity.kind === "conditional";
      const working = (value: number) => (survives ? Math.log(-Math.log(value)) : Math.log(value));
      const values = Array.from({ length: 10 }, (_, one) => {
        const kept = (_value: number, life: number) => cluster[life] !== one;
        const { fit } = fitted({ time: pairs.time.filter(kept), failed: pairs.failed.filter(kept) }, "weibull");
        return working(weibullValue(quantity, fit.shape, fit.scale));
      });
      const estimate = working(weibullValue(quantity, own.fit.shape, own.fit.scale));
      const mean = values.reduce((sum, value) => sum + value, 0) / 10;
      const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      const fourths = values.reduce((sum, value) => sum + (value - mean) ** 4, 0);
      // Satterthwaite: 2 / f = 2 / (n - 1) + excess / n.
      const degrees = 2 / (2 / 9 + Math.max(0, (10 * fourths) / squares ** 2 - 3) / 10);
      const middle = estimate - 9 * (mean - estimate);
      const reach = studentQuantile(0.975, degrees) * Math.sqrt(0.9 * squares);
      const { low, high } = jackknifeInterval(own.surface, own.fit, quantity, 0.95, leftOut(own, cluster));
      const ends = [working(low!), working(high!)].sort((one, other) => one - other);
      expectAgreement(ends[0], middle - reach, { abs: 1e-7 }, `of ${degrees} degrees`);
      expectAgreement(ends[1], middle + reach, { abs: 1e-7 }, `of ${degrees} degrees`);
    },
  );

  it("has no limits where a mean is infinite without one unit, and says so", () => {
    const own = fitted(marked("10 40 90 200 700 150 60"), "log-logistic");
    const found = leftOut(own, Int32Array.of(1, 1, 2, 3, 4, 2, 2));
    expect(own.fit.shape).toBeGreaterThan(1);
    const low = { without: [...found.without, { a: 4, e: -0.1 }] };
    expect(jackknifeInterval(own.surface, own.fit, { kind: "mean" }, 0.95, low)).toMatchObject({
      low: null,
      high: null,
      reason: "no limits: without one unit the mean is infinite",
    });
    expect(() => jackknifeInterval(own.surface, own.fit, { kind: "shape" }, 1.5, found)).toThrow(RangeError);
  });
});

/** By the definition of each quantity. */
function weibullValue(quantity: Quantity, shape: number, scale: number): number {
  const survival = (time: number) => Math.exp(-((time / scale) ** shape));
  switch (quantity.kind) {
    case "shape":
      return shape;
    case "scale":
      return scale;
    case "quantile":
      return scale * (-Math.log1p(-quantity.p)) ** (1 / shape);
    case "mean":
      return meanByParts(survival, scale);
    case "survival":
      return survival(quantity.time);
    case "conditional":
      return survival(quantity.age + quantity.further) / survival(quantity.age);
  }
}

/** The integral of the survival, by Simpson's rule. */
function meanByParts(survival: (time: number) => number, scale: number): number {
  const [parts, last] = [20_000, 12 * scale];
  let sum = survival(0) + survival(last);
  for (let at = 1; at < parts; at++) sum += (at % 2 === 1 ? 4 : 2) * survival((at * last) / parts);
  return (sum * last) / parts / 3;
}

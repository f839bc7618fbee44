import { describe, expect, it } from "vitest";
import { correctedSlope } from "../../../src/stats/gauge/attenuation.ts";
import { leftVariance } from "../../../src/stats/gauge/left-variance.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

const slope = { estimate: -0.2, low: -0.35, high: -0.05 };

describe("correctedSlope", () => {
  it.each([
    // D-8: s^2 / (s^2 + u^2) of a true spread s = 1.2 thou
    { gaugeSd: 0.5, variance: 1.44 + 0.25, repeats: 1, reliability: 0.852 },
    { gaugeSd: 0.8, variance: 1.44 + 0.64, repeats: 1, reliability: 0.692 },
    { gaugeSd: 1.2, variance: 1.44 + 1.44, repeats: 1, reliability: 0.5 },
    // By hand: the mean of three readings of sd 1.2 has an error variance of 0.48: 1.44 / 1.92
    { gaugeSd: 1.2, variance: 1.44 + 0.48, repeats: 3, reliability: 0.75 },
    { gaugeSd: 0, variance: 1.44, repeats: 1, reliability: 1 },
  ])("gauge $gaugeSd, variance $variance: reliability $reliability", ({ gaugeSd, variance, repeats, reliability }) => {
    const found = correctedSlope(slope, { gaugeSd, variance, repeats });
    expectAgreement(found.reliability, reliability, { abs: 5e-4 });
    expectAgreement(found.slope?.estimate, -0.2 / found.reliability, { rel: 1e-12 });
    expectAgreement(found.slope?.low, -0.35 / found.reliability, { rel: 1e-12 });
    expectAgreement(found.slope?.high, -0.05 / found.reliability, { rel: 1e-12 });
  });

  it("keeps an open end open", () => {
    expect(correctedSlope({ estimate: 1, low: null, high: 2 }, { gaugeSd: 1, variance: 2 }).slope).toEqual({
      estimate: 2,
      low: null,
      high: 4,
    });
  });

  it.each([1, 1.5])("gives none where the gauge's variance is %d times that of the readings", (times) => {
    const found = correctedSlope(slope, { gaugeSd: Math.sqrt(times), variance: 1 });
    expect(found).toEqual({
      slope: null,
      reliability: 0,
      reason: "the gauge's error alone explains the spread of the readings: they say nothing of the true values",
    });
  });

  it("refuses what is no gauge, variance or slope", () => {
    expect(() => correctedSlope(slope, { gaugeSd: -1, variance: 1 })).toThrow("found standard deviation -1");
    expect(() => correctedSlope(slope, { gaugeSd: 1, variance: 0 })).toThrow(RangeError);
    expect(() => correctedSlope(slope, { gaugeSd: 1, variance: 2, repeats: 0.5 })).toThrow(
      "readings a value must be whole",
    );
    expect(() => correctedSlope({ ...slope, estimate: Number.NaN }, { gaugeSd: 1, variance: 2 })).toThrow(
      "the slope is NaN",
    );
  });

  it("gives back a planted slope beside a correlated covariate, which the plain one misses", () => {
    // log life -0.3 a unit of the true value; the other covariate explains half of it; gauge sd 0.6; so that what is left of the true
    // value has variance 0.5, and the plain slope is -0.3 * 0.5 / 0.86 = -0.174
    const stream = streamOf(31, 0);
    const size = 40_000;
    const other = new Float64Array(size);
    const reading = new Float64Array(size);
    const life = new Float64Array(size);
    for (let row = 0; row < size; row++) {
      other[row] = normal(stream);
      const truth = Math.SQRT1_2 * (other[row]! + normal(stream));
      reading[row] = truth + 0.6 * normal(stream);
      life[row] = -0.3 * truth + 0.2 * other[row]! + 0.5 * normal(stream);
    }
    const plain = partialSlope(life, reading, other);
    expectAgreement(plain, -0.174, { abs: 0.01 });
    const variance = leftVariance(reading, [{ name: "other", values: other }])!;
    const found = correctedSlope({ estimate: plain, low: null, high: null }, { gaugeSd: 0.6, variance });
    // standard error about 0.5 / sqrt(0.86 * 40,000) / 0.58 = 0.0048
    expectAgreement(found.slope?.estimate, -0.3, { abs: 0.015 });
  });
});

describe("leftVariance", () => {
  const x1 = Float64Array.of(-0.84, 1.38, -1.26, 0.07, 1.71, -0.6, -0.47, -0.64, -0.29, 0.14, 1.23, -0.8);
  const x2 = Float64Array.of(0.14, 0.48, 0.44, 0.97, 0.14, 0.95, 0.44, 0.06, 0.28, 0.03, 0.01, 0.49);
  const reading = Float64Array.of(2.12, 3.16, 1.76, 2.07, 5.9, 1.21, 2.47, 1.95, 3.57, 4.58, 3.55, 0.37);
  const one = { name: "one", values: x1 };
  const two = { name: "two", values: x2 };
  const sum = { name: "sum", values: x1.map((value, row) => 5 - value + 3 * x2[row]!) };
  const flat = { name: "flat", values: new Float64Array(12).fill(0.1) };

  it.each([
    { name: "no others", others: [], variance: 2.30351742424, source: "R: var(w)" },
    { name: "two", others: [one, two], variance: 0.850608601797, source: "R: summary(lm(w ~ x1 + x2))$sigma^2" },
    {
      name: "two, a sum of theirs and a constant",
      others: [one, sum, two, flat],
      variance: 0.850608601797,
      source: "the same",
    },
  ])("with $name: $variance ($source)", ({ others, variance }) => {
    expectAgreement(leftVariance(reading, others), variance, { rel: 1e-10 });
  });

  it("is 0 where others tell the reading, and null where there are too few lives", () => {
    expectAgreement(leftVariance(sum.values, [one, two]), 0, { abs: 1e-12 });
    expect(
      leftVariance(reading.slice(0, 3), [
        { ...one, values: x1.slice(0, 3) },
        { ...two, values: x2.slice(0, 3) },
      ]),
    ).toBeNull();
    expect(leftVariance(new Float64Array(1), [])).toBeNull();
    expect(leftVariance(new Float64Array(5).fill(0.3), [])).toBe(0);
    expect(() => leftVariance(Float64Array.of(1, Number.NaN), [])).toThrow('covariate "reading"');
  });
});

/** By G. E. P. Box & M. E. Muller, Ann. Math. Statist. 29 (1958) 610. */
function normal(stream: Stream): number {
  return Math.sqrt(-2 * Math.log(1 - stream.uniform())) * Math.cos(2 * Math.PI * stream.uniform());
}

/** Slope of y by x beside z, from sums of products. */
function partialSlope(y: Float64Array, x: Float64Array, z: Float64Array): number {
  const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const product = (one: Float64Array, other: Float64Array) => {
    const [a, b] = [mean(one), mean(other)];
    return one.reduce((sum, value, row) => sum + (value - a) * (other[row]! - b), 0);
  };
  const [xx, zz, xz, xy, zy] = [product(x, x), product(z, z), product(x, z), product(x, y), product(z, y)];
  return (xy * zz - zy * xz) / (xx * zz - xz ** 2);
}

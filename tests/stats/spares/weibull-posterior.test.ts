import { describe, expect, it } from "vitest";
import {
  fitWeibull,
  type Lives,
  type WeibullDraws,
  type WeibullPrior,
  weibullPosterior,
} from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";

const USUAL: WeibullPrior = { shape: 1.5, logShapeSd: 0.5, failures: 0.5 };
const options = { draws: 20_000, seed: 1 };

const FEW: Lives = {
  time: Float64Array.of(4000, 9000, 12_000, 7000, 2500),
  failed: Uint8Array.of(1, 0, 0, 1, 0),
  entry: Float64Array.of(0, 0, 3000, 0, 0),
  count: Float64Array.of(1, 2, 1, 1, 3),
};

function drawn(lives: Lives, prior = USUAL, own = options): WeibullDraws {
  const found = weibullPosterior(lives, prior, own);
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
const sd = (values: Float64Array) => {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
};

describe("weibullPosterior", () => {
  it("has the moments and tails of the posterior, found by integration", () => {
    const { shape, scale } = drawn(FEW);
    // python3 with numpy: sums over a grid of 2001 log shapes from log 0.1 to log 30 and 4001 logs of H from -14 to 6, of
    // exp(-(x - log 1.5)^2 / 0.5 + 2 x + 2 log H + b sum(log u) - H sum(u^b - v^b) + log(H) / 2), u = t / 6062.5, v = entry / 6062.5, b = e^x
    expectAgreement(mean(shape.map(Math.log)), 0.42143, { abs: 0.01 });
    expectAgreement(sd(shape.map(Math.log)), 0.38426, { rel: 0.02 });
    expectAgreement(mean(scale.map(Math.log)), 9.73653, { abs: 0.015 });
    expectAgreement(sd(scale.map(Math.log)), 0.6156, { rel: 0.04 });
    expectAgreement(scale.filter((age) => age > 20_000).length / options.draws, 0.29536, { abs: 0.012 });
  });

  it("says of a slot without a failure how few there may be: half a one by the mean age of its lives", () => {
    const lives = { time: new Float64Array(40).fill(5000), failed: new Uint8Array(40) };
    const { shape, scale } = drawn(lives);
    // All lives end at the mean age: H there is gamma of shape 1/2 and rate 40, whatever the shape is
    const failures = shape.map((own, draw) => 40 * (5000 / scale[draw]!) ** own);
    expectAgreement(mean(failures), 0.5, { abs: 0.02 });
    expectAgreement(sd(failures), Math.SQRT1_2, { rel: 0.05 });
    // No failure, no news of the shape
    expectAgreement(mean(shape.map(Math.log)), Math.log(1.5), { abs: 0.015 });
    expectAgreement(sd(shape.map(Math.log)), 0.5, { rel: 0.03 });
  });

  it("never fails what has not failed where the prior adds nothing", () => {
    const { scale } = drawn(
      { time: Float64Array.of(5000, 10), failed: Uint8Array.of(0, 0) },
      { ...USUAL, failures: 0 },
    );
    expect(scale.every((age) => age === Number.POSITIVE_INFINITY)).toBe(true);
  });

  it("comes to the fit where failures are many", () => {
    // Quantiles of a Weibull law of shape 2 and scale 9000, every third life cut at 6000 where it is longer
    const ages = Float64Array.from({ length: 600 }, (_, at) => 9000 * Math.sqrt(-Math.log1p(-(at + 0.5) / 600)));
    const failed = Uint8Array.from(ages, (age, at) => (at % 3 === 0 && age > 6000 ? 0 : 1));
    const lives = { time: ages.map((age, at) => (failed[at] === 1 ? age : 6000)), failed };
    const fit = fitWeibull(lives);
    if (!fit.converged) throw new Error(fit.reason);
    const { shape, scale } = drawn(lives, USUAL, { draws: 4000, seed: 3 });
    const [[scaleVariance], [, shapeVariance]] = fit.covariance;
    expectAgreement(mean(shape.map(Math.log)), Math.log(fit.shape), { abs: 0.2 * Math.sqrt(shapeVariance) });
    expectAgreement(sd(shape.map(Math.log)), Math.sqrt(shapeVariance), { rel: 0.06 });
    expectAgreement(mean(scale.map(Math.log)), Math.log(fit.scale), { abs: 0.2 * Math.sqrt(scaleVariance) });
    expectAgreement(sd(scale.map(Math.log)), Math.sqrt(scaleVariance), { rel: 0.06 });
  });

  it("is the same in every unit of age, for every seed, and whatever the number of draws", () => {
    const hours = drawn(FEW, USUAL, { draws: 50, seed: 5 });
    const seconds = (column: Float64Array) => column.map((age) => 3600 * age);
    const other = drawn({ ...FEW, time: seconds(FEW.time), entry: seconds(FEW.entry!) }, USUAL, { draws: 50, seed: 5 });
    for (const [draw, scale] of other.scale.entries()) {
      expectAgreement(scale, 3600 * hours.scale[draw]!, { rel: 1e-9 });
      expectAgreement(other.shape[draw]!, hours.shape[draw]!, { rel: 1e-9 });
    }
    expect(drawn(FEW, USUAL, { draws: 10, seed: 5 }).scale).toEqual(hours.scale.slice(0, 10));
    expect(drawn(FEW, USUAL, { draws: 10, seed: 6 }).scale).not.toEqual(hours.scale.slice(0, 10));
  });

  it("says why there is none, and refuses what is no prior", () => {
    const within = { low: Float64Array.of(100), high: Float64Array.of(200) };
    expect(weibullPosterior(within, USUAL, options)).toEqual({
      reason: "some lives are only known to have failed within an interval",
    });
    const none = { time: Float64Array.of(0, 5), failed: Uint8Array.of(1, 0) };
    expect(weibullPosterior(none, USUAL, options)).toEqual({ reason: "a life of no length failed" });
    const empty = { time: new Float64Array(0), failed: new Uint8Array(0) };
    expect(weibullPosterior(empty, USUAL, options)).toEqual({ reason: "there is no life of any length" });
    for (const prior of [{ shape: 0 }, { logShapeSd: 0 }, { failures: -1 }, { shape: Number.NaN }]) {
      expect(() => weibullPosterior(FEW, { ...USUAL, ...prior }, options)).toThrow(RangeError);
    }
    for (const wrong of [{ draws: 0 }, { seed: 0.5 }]) {
      expect(() => weibullPosterior(FEW, USUAL, { ...options, ...wrong })).toThrow(RangeError);
    }
  });

  it("stays finite for hostile lives", () => {
    for (const time of [
      [1e-9, 1e12],
      [5, 5],
      [1e300, 1e300],
    ]) {
      const { shape, scale } = drawn({ time: Float64Array.from(time), failed: Uint8Array.of(1, 1) }, USUAL, {
        draws: 200,
        seed: 1,
      });
      expect(shape.every((value) => value >= 0.1 && value <= 30)).toBe(true);
      expect(scale.every((value) => value > 0 && value < Number.POSITIVE_INFINITY)).toBe(true);
    }
  });
});

import { describe, expect, it } from "vitest";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import { fitSurface } from "../../../src/stats/fit/fit.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import type { Lives } from "../../../src/stats/lives.ts";
import { publishedShapeFactor } from "../../../src/stats/small-sample/published-shape-factor.ts";
import { shapeBias } from "../../../src/stats/small-sample/shape-bias.ts";
import { expectAgreement } from "../../agree.ts";

/** Ages by which equal shares of a Weibull population fail: a set without chance in it. */
function even(size: number, shape: number, scale: number): Float64Array {
  return Float64Array.from({ length: size }, (_, life) => scale * (-Math.log1p(-(life + 0.5) / size)) ** (1 / shape));
}

function complete(size: number, shape = 2, scale = 9000): Lives {
  return { time: even(size, shape, scale), failed: new Uint8Array(size).fill(1) };
}

function biasOf(lives: Lives, draws: number, seed: number, distribution: FamilyName = "weibull") {
  const surface = surfaceOf(lives, distribution);
  if ("refused" in surface) throw new Error(surface.refused);
  const fit = fitSurface(surface);
  if (!fit.converged) throw new Error(fit.reason);
  const drawn = replicates(lives, surface, fit, { draws, seed });
  if ("reason" in drawn) throw new Error(drawn.reason);
  return shapeBias(lives, fit, drawn.list);
}

describe("publishedShapeFactor", () => {
  // Thoman, Bain & Antle 1969, table of unbiasing factors, from memory.
  it.each([
    [6, 0.752],
    [8, 0.82],
    [10, 0.859],
    [20, 0.931],
  ])("%d lives: %d", (lives, factor) => {
    expectAgreement(publishedShapeFactor(lives), factor, { abs: 1e-3 });
  });

  // NumPy, seed 20261126: one over the mean of the shape of greatest likelihood of 200,000 sets of exponential lives.
  it.each([
    [3, 0.4384, 0.01],
    [5, 0.694, 0.004],
    [10, 0.8552, 0.004],
    [15, 0.9053, 0.004],
    [20, 0.9287, 0.004],
  ])("%d lives: %d by simulation", (lives, factor, abs) => {
    expectAgreement(publishedShapeFactor(lives), factor, { abs });
  });

  it("refuses fewer than 3 lives", () => {
    for (const lives of [2, 0, 3.5, Number.NaN]) expect(() => publishedShapeFactor(lives)).toThrow("from 3, found");
  });
});

describe("shapeBias", () => {
  it.each([
    // NumPy, seed 20261126, 200,000 sets: one over mean and median of the shape's estimate over its true value. Three standard errors here.
    [5, 0.694, 1 / 1.2434, 0.05],
    [10, 0.8552, 1 / 1.1037, 0.02],
    [20, 0.9287, 1 / 1.0496, 0.012],
  ])("of %d lives that all failed, by mean, median and the published factor", (size, mean, median, abs) => {
    const bias = biasOf(complete(size), 2000, 61);
    expectAgreement(bias.byMean.factor, mean, { abs });
    expectAgreement(bias.byMedian.factor, median, { abs });
    expectAgreement(bias.published.factor, publishedShapeFactor(size), { rel: 1e-14 });
    for (const { factor, corrected } of [bias.byMean, bias.byMedian, bias.published]) {
      expectAgreement(corrected, bias.raw * factor!, { rel: 1e-14 });
    }
  });

  it("of 20 lives watched for a fixed time by which half fail", () => {
    // NumPy, seed 20261127, 200,000 sets of exponential lives censored at ln 2, of 2 failures or more.
    const all = complete(20);
    const end = 9000 * Math.log(2) ** (1 / 2);
    const lives = {
      time: all.time.map((age) => Math.min(age, end)),
      failed: Uint8Array.from(all.time, (age) => (age <= end ? 1 : 0)),
    };
    const bias = biasOf(lives, 4000, 62);
    expectAgreement(bias.byMean.factor, 1 / 1.1094, { abs: 0.02 });
    expectAgreement(bias.byMedian.factor, 1 / 1.0432, { abs: 0.02 });
    expect(bias.published).toEqual({
      factor: null,
      corrected: null,
      reason: "a factor is published for lives that all failed at known ages only",
    });
  });

  it.each([1e-6, 1e9])("does not depend on the unit: ages times %d", (unit) => {
    const scaled = biasOf(complete(8, 2, 9000 * unit), 200, 63);
    expectAgreement(scaled.byMean.factor, biasOf(complete(8), 200, 63).byMean.factor!, { rel: 1e-6 });
  });

  it("has no average where drawn sets hold two failures, but a median", () => {
    const sparse = {
      time: Float64Array.of(10, 20, 30),
      failed: Uint8Array.of(1, 1, 0),
      count: Float64Array.of(1, 1, 20),
    };
    const bias = biasOf(sparse, 200, 64);
    expect(bias.byMean).toMatchObject({ factor: null, reason: expect.stringMatching(/two failures only/) });
    expect(bias.byMedian.factor).toBeGreaterThan(0.1);
    expect(bias.byMedian.factor).toBeLessThan(1);
  });

  it("has no published factor for 2 lives, late entries or other distributions", () => {
    expect(biasOf(complete(2), 50, 65).published).toMatchObject({ reason: expect.stringMatching(/3 lives and more/) });
    const late = { ...complete(6), entry: new Float64Array(6).fill(1) };
    expect(biasOf(late, 50, 65).published).toMatchObject({ reason: expect.stringMatching(/all failed at known ages/) });
    expect(biasOf(complete(6), 50, 65, "lognormal").published).toMatchObject({
      reason: expect.stringMatching(/Weibull distribution only/),
    });
  });

  it("counts lives, not rows", () => {
    const rows = complete(5);
    const counted = { ...rows, count: new Float64Array(5).fill(2) };
    expectAgreement(biasOf(counted, 50, 66).published.factor, publishedShapeFactor(10), { rel: 1e-14 });
  });

  it("has a reason where the shape is not fitted, and where nothing was drawn", () => {
    const lives = complete(6);
    const { byMean, byMedian, published } = biasOf(lives, 50, 67, "exponential");
    for (const none of [byMean, byMedian, published]) expect(none).toMatchObject({ reason: "the shape is not fitted" });
    const surface = surfaceOf(lives, "weibull");
    const fit = "refused" in surface ? null : fitSurface(surface);
    if (!fit?.converged) throw new Error("no fit");
    expect(shapeBias(lives, fit, []).byMean).toMatchObject({ reason: "no sets were drawn" });
  });
});

import { describe, expect, it } from "vitest";
import {
  countMoments,
  countQuantile,
  countTransform,
  type ForecastScores,
  intermittentDemand,
  intermittentForecast,
  lastUseForecast,
  meanRateForecast,
  negativeBinomialCounts,
  pinballLoss,
  poissonCounts,
  scoreForecasts,
  useDispersion,
  useForecast,
} from "../../../src/stats/index.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

const question = { level: 0.8, quantiles: [0.1, 0.5, 0.9], seed: 4 };
const demand = Float64Array.of(0, 2, 0, 0, 1, 0, 0, 0, 3, 0, 1);
const ones = (size: number) => new Float64Array(size).fill(1);

function drawn(chances: Float64Array, stream: Stream): number {
  const uniform = stream.uniform();
  let sum = chances[0]!;
  let count = 0;
  while (sum <= uniform && count < chances.length - 1) sum += chances[++count]!;
  return count;
}

/** Counts drawn from one law, held against the forecast of another. */
function scored(truth: Float64Array, forecast: Float64Array, size: number): ForecastScores {
  const stream = streamOf(11, 0);
  const scores = scoreForecasts(
    Array.from({ length: size }, () => ({ chances: forecast, count: drawn(truth, stream) })),
    question,
  );
  if ("reason" in scores) throw new Error(scores.reason);
  return scores;
}

describe("scoreForecasts", () => {
  it.each([0.3, 1, 10, 60])("finds a right forecast of mean %f to cover, its transforms uniform", (mean) => {
    const size = 4000;
    const { transforms, coverage, bias, ratio } = scored(poissonCounts(mean), poissonCounts(mean), size);
    // standard error sqrt(0.16 / 4,000) = 0.0063
    expectAgreement(coverage.estimate, 0.8, { abs: 0.026 });
    expectAgreement(bias, 0, { abs: 4 * Math.sqrt(mean / size) });
    expectAgreement(ratio, 1, { abs: 4 / Math.sqrt(mean * size) });
    // Kolmogorov's distance: 1.95 / sqrt(n) is exceeded once in 1,000
    const distance = transforms
      .toSorted()
      .reduce((most, place, at) => Math.max(most, Math.abs(place - (at + 0.5) / size)), 0);
    expect(distance).toBeLessThan(1.95 / Math.sqrt(size));
  });

  it.each([
    // Rscript -e 'for (m in c(1, 10)) print(ppois(qpois(.9, m), m) - ppois(qpois(.1, m) - 1, m))'
    { mean: 1, covered: 0.9197 },
    { mean: 10, covered: 0.8495 },
  ])("does without the plain interval, which covers $covered of counts of mean $mean", ({ mean, covered }) => {
    const chances = poissonCounts(mean);
    const [low, high] = [countQuantile(chances, 0.1), countQuantile(chances, 0.9)];
    expectAgreement(
      chances.slice(low, high + 1).reduce((sum, one) => sum + one, 0),
      covered,
      { abs: 5e-5 },
    );
  });

  it("sees too narrow a forecast, and one that is too high", () => {
    const narrow = scored(negativeBinomialCounts(10, 0.5), poissonCounts(10), 2000);
    expect(narrow.coverage.high).toBeLessThan(0.7);
    const high = scored(poissonCounts(4), poissonCounts(6), 2000);
    expectAgreement(high.bias, 2, { abs: 0.2 });
    expectAgreement(high.ratio, 1.5, { rel: 0.05 });
    const right = scored(poissonCounts(4), poissonCounts(4), 2000);
    for (const [at, loss] of right.loss.entries()) expect(loss).toBeLessThan(high.loss[at]!);
  });

  it("has a bias and no ratio where nothing came, and no scores of nothing", () => {
    expect(scoreForecasts([{ chances: poissonCounts(2), count: 0 }], question)).toMatchObject({
      ratio: null,
      cases: 1,
    });
    expect(scoreForecasts([], question)).toEqual({ reason: "there is no forecast whose time is over" });
    expect(() => scoreForecasts([], { ...question, level: 1 })).toThrow(RangeError);
  });
});

describe("countTransform and pinballLoss", () => {
  it("give what a hand reckons", () => {
    const chances = Float64Array.of(0.5, 0.3, 0.2);
    expectAgreement(countTransform(chances, 1, 0), 0.5, { abs: 1e-15 });
    expectAgreement(countTransform(chances, 1, 1), 0.8, { abs: 1e-15 });
    expectAgreement(countTransform(chances, 2, 0.5), 0.9, { abs: 1e-15 });
    expect([countTransform(chances, 0, 0), countTransform(chances, 7, 0.2)]).toEqual([0, 1]);
    // the 0.9 quantile is 2, the 0.4 quantile 0
    expectAgreement(pinballLoss(chances, 5, 0.9), 2.7, { abs: 1e-12 });
    expectAgreement(pinballLoss(chances, 0, 0.9), 0.2, { abs: 1e-12 });
    expectAgreement(pinballLoss(chances, 3, 0.4), 1.2, { abs: 1e-12 });
    expect(pinballLoss(chances, 2, 0.9)).toBe(0);
    for (const count of [-1, 0.5, Number.NaN]) {
      expect(() => countTransform(chances, count, 0)).toThrow(RangeError);
      expect(() => pinballLoss(chances, count, 0.5)).toThrow(RangeError);
    }
    expect(() => countTransform(chances, 1, 1.1)).toThrow(RangeError);
  });
});

describe("intermittentDemand", () => {
  it("gives the size, gap and rates of a short record", () => {
    // by hand: sizes 2, 1.9, 2.01, 1.909; gaps 2, 2.1, 2.29, 2.261
    const found = intermittentDemand(demand, 0.1);
    if ("reason" in found) throw new Error(found.reason);
    expectAgreement(found.size, 1.909, { abs: 1e-12 });
    expectAgreement(found.gap, 2.261, { abs: 1e-12 });
    expectAgreement(found.rate, 0.84432, { abs: 5e-6 });
    expectAgreement(found.correctedRate, 0.8021, { abs: 5e-6 });
  });

  it("takes no note of periods without demand after the last, and has no rate of none", () => {
    expect(intermittentDemand(Float64Array.of(...demand, 0, 0, 0), 0.1)).toEqual(intermittentDemand(demand, 0.1));
    expect(intermittentDemand(Int32Array.of(0, 4), 0.2)).toMatchObject({ size: 4, gap: 2, rate: 2 });
    expect(intermittentDemand(new Float64Array(12), 0.1)).toEqual({ reason: "there was no demand in any period" });
    for (const smoothing of [0, 1.5, Number.NaN])
      expect(() => intermittentDemand(demand, smoothing)).toThrow(RangeError);
    expect(() => intermittentDemand(Float64Array.of(1, -1), 0.1)).toThrow(RangeError);
  });
});

describe("plain forecasts", () => {
  it("are Poisson about last use, the mean rate or the smoothed rate", () => {
    expect(lastUseForecast(3)).toEqual(poissonCounts(3));
    expect(lastUseForecast(3, 0.5)).toEqual(poissonCounts(1.5));
    expect([...lastUseForecast(0)]).toEqual([1]);
    expectAgreement(countMoments(intermittentForecast(demand, { smoothing: 0.1, periods: 12 })).mean, 12 * 0.8021, {
      rel: 1e-5,
    });
    expect([...intermittentForecast(new Float64Array(3), { smoothing: 0.1, periods: 12 })]).toEqual([1]);
    expect(() => lastUseForecast(-1)).toThrow(RangeError);
    expect(() => intermittentForecast(demand, { smoothing: 0.1, periods: -1 })).toThrow(RangeError);
  });

  it("cover though the rate is learnt from few pieces", () => {
    // Poisson rates of 3 a year, known from one year: the forecast of the next one; standard error 0.0065
    const stream = streamOf(12, 0);
    const truth = poissonCounts(3);
    const cases = Array.from({ length: 4000 }, () => ({
      chances: meanRateForecast({ used: drawn(truth, stream), exposure: 1 }, 1),
      count: drawn(truth, stream),
    }));
    const scores = scoreForecasts(cases, question);
    if ("reason" in scores) throw new Error(scores.reason);
    expectAgreement(scores.coverage.estimate, 0.8, { abs: 0.03 });
    // last year's use taken for the rate covers 20 points too little
    const stream2 = streamOf(12, 0);
    const plain = scoreForecasts(
      cases.map(() => ({ chances: lastUseForecast(drawn(truth, stream2)), count: drawn(truth, stream2) })),
      question,
    );
    if ("reason" in plain) throw new Error(plain.reason);
    expect(plain.coverage.high).toBeLessThan(0.7);
  });
});

describe("useDispersion and useForecast", () => {
  it("find the ratio of variance to mean, and its chance", () => {
    // Rscript -e 'x <- c(0,0,9,0,1,8); var(x) / mean(x); pchisq(sum((x - 3)^2) / 3, 5, lower = FALSE)'
    const found = useDispersion({ events: Float64Array.of(0, 0, 9, 0, 1, 8), exposure: ones(6) });
    if ("reason" in found) throw new Error(found.reason);
    expectAgreement(found.ratio, 6.133333333, { rel: 1e-9 });
    expectAgreement(found.p, 1.089915203e-5, { rel: 1e-6 });
    // by hand: (0.142857^2 / 2.142857 + 4.285714 + 2.571429^2 / 6.428571 + 1.857143^2 / 2.142857) / 3; R's quasi-Poisson glm gives 2.311113
    const unequal = useDispersion({ events: Float64Array.of(2, 0, 9, 4), exposure: Float64Array.of(1, 2, 3, 1) });
    if ("reason" in unequal) throw new Error(unequal.reason);
    expectAgreement(unequal.ratio, 104 / 45, { rel: 1e-9 });
    expectAgreement(unequal.rate, 15 / 7, { rel: 1e-12 });
  });

  it("keep to Poisson noise where nothing speaks against it", () => {
    const found = useForecast({ events: Float64Array.of(2, 1, 3), exposure: ones(3) }, 2);
    expect(found.noise).toBe("poisson");
    expect(found.chances).toEqual(meanRateForecast({ used: 6, exposure: 3 }, 2));
    // by hand: mean 2 * 6.5 / 3, variance mean + mean^2 / 6.5
    const { mean, variance } = countMoments(found.chances);
    expectAgreement(mean, 13 / 3, { rel: 1e-10 });
    expectAgreement(variance, 13 / 3 + (13 / 3) ** 2 / 6.5, { rel: 1e-9 });
  });

  it("widen where use scatters more", () => {
    const counts = { events: Float64Array.of(0, 0, 9, 0, 1, 8), exposure: ones(6) };
    const found = useForecast(counts, 2);
    expect(found.noise).toBe("negative binomial");
    // by hand: mean 2 * 18.5 / 6 = 6.16667; variance 6.13333 (6.16667 + 6.16667^2 / 18.5)
    const { mean, variance } = countMoments(found.chances);
    expectAgreement(mean, 37 / 6, { rel: 1e-9 });
    expectAgreement(variance, (92 / 15) * (37 / 6 + (37 / 6) ** 2 / 18.5), { rel: 1e-8 });
  });

  it("do with one period, none used, none ahead, and periods of no length", () => {
    expect(useForecast({ events: Float64Array.of(0), exposure: ones(1) }, 1)).toMatchObject({
      noise: "poisson",
      dispersion: null,
    });
    expect(useDispersion({ events: new Float64Array(4), exposure: ones(4) })).toEqual({
      reason: "nothing was used in any period",
    });
    expect(useDispersion({ events: Float64Array.of(3, 1), exposure: Float64Array.of(1, 0) })).toEqual({
      reason: "there are fewer than two periods",
    });
    expect([...useForecast({ events: Float64Array.of(0, 0, 9, 0, 1, 8), exposure: ones(6) }, 0).chances]).toEqual([1]);
    expect(() => useForecast({ events: Float64Array.of(1), exposure: Float64Array.of(0) }, 1)).toThrow(
      "the exposure is 0",
    );
    expect(() => useForecast({ events: Float64Array.of(1), exposure: ones(1) }, -1)).toThrow(RangeError);
    expect(() => useDispersion({ events: Float64Array.of(-1), exposure: ones(1) })).toThrow(RangeError);
  });
});

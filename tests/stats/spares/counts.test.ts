import { describe, expect, it } from "vitest";
import {
  countMoments,
  countQuantile,
  countsInLots,
  countsOfDraws,
  mixedCounts,
  negativeBinomialCounts,
  poissonCounts,
  sumOfCounts,
  thinnedCounts,
  trialCounts,
} from "../../../src/stats/index.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const stock = new PublishedCase("12a_poisson_stock");
const fleet = new PublishedCase("12e_fleet_forecast");
const sumTo = (chances: Float64Array, count: number) => chances.slice(0, count + 1).reduce((sum, one) => sum + one, 0);

function expectSame(found: Float64Array, expected: Float64Array, abs = 1e-13) {
  for (let k = 0; k < Math.max(found.length, expected.length); k++) {
    expectAgreement(found[k] ?? 0, expected[k] ?? 0, { abs }, `count ${k}`);
  }
}

describe("poissonCounts", () => {
  it("gives the published loss table's chances (university lecture slides on order-up-to stock, mean 1.25)", () => {
    const published = [0.286505, 0.358131, 0.223832, 0.093263, 0.029145];
    for (const [k, chance] of published.entries()) expectAgreement(poissonCounts(1.25)[k], chance, { abs: 5e-7 });
  });

  it.each([
    // Rscript -e 'print(dpois(c(990, 100300), c(1000, 1e5)), digits = 15)'
    { mean: 1000, count: 990, chance: 0.012057810136601163 },
    { mean: 100_000, count: 100_300, chance: 0.000803566571108557 },
  ])("holds at a mean of $mean", ({ mean, count, chance }) => {
    const chances = poissonCounts(mean);
    expectAgreement(chances[count], chance, { rel: 1e-9 });
    const { mean: found, variance } = countMoments(chances);
    expectAgreement(found, mean, { rel: 1e-12 });
    expectAgreement(variance, mean, { rel: 1e-10 });
  });

  it("leaves less than 1e-15, has nothing but 0 without a mean, and refuses what is none", () => {
    expect([...poissonCounts(0)]).toEqual([1]);
    // R: ppois(17, 1, lower = FALSE) = 5.9e-17: 1e-15 needs no more counts
    expect(poissonCounts(1).length).toBeLessThanOrEqual(20);
    for (const mean of [-1, Number.NaN, Number.POSITIVE_INFINITY, 1e12]) {
      expect(() => poissonCounts(mean), String(mean)).toThrow(RangeError);
    }
  });
});

describe("negativeBinomialCounts", () => {
  it("gives the published stocks and chances of an uncertain rate", () => {
    const { rows, tolerance } = stock.table("stock_negative_binomial");
    expect(rows.length).toBe(12);
    for (const { mean_demand, gamma_shape, service, stock: held, achieved } of rows) {
      const chances = negativeBinomialCounts(mean_demand!, 1 / gamma_shape!);
      expect(countQuantile(chances, service!)).toBe(held);
      expectAgreement(sumTo(chances, held!), achieved!, tolerance);
    }
  });

  it.each([
    { mean: 0.1, dispersion: 30 },
    { mean: 40, dispersion: 0.4 },
    { mean: 300, dispersion: 2 },
    { mean: 5000, dispersion: 1e-7 },
  ])("has mean $mean and variance m + $dispersion m^2", ({ mean, dispersion }) => {
    const found = countMoments(negativeBinomialCounts(mean, dispersion));
    expectAgreement(found.mean, mean, { rel: 1e-10 });
    expectAgreement(found.variance, mean + dispersion * mean ** 2, { rel: 1e-9 });
  });

  it("refuses what can't be held", () => {
    expect(() => negativeBinomialCounts(1, -0.1)).toThrow(RangeError);
    expect(() => negativeBinomialCounts(1e5, 1e5)).toThrow("Cannot hold so wide a count");
  });
});

describe("trialCounts", () => {
  const { rows: pumps } = fleet.table("per_pump");
  const chances = Float64Array.from(pumps, ({ p_fail }) => p_fail!);

  it("gives the published distribution of twelve unequal trials, and its moments", () => {
    const { rows, tolerance } = fleet.table("pmf");
    const found = trialCounts(chances);
    expect(found.length).toBe(13);
    for (const { n, p } of rows) expectAgreement(found[n!], p!, { ...tolerance, abs: 1e-11 });
    const { mean, variance } = countMoments(found);
    expectAgreement(mean, fleet.value("expected").value, { rel: 1e-9 });
    expectAgreement(variance, fleet.value("variance").value, { rel: 1e-9 });
  });

  it.each([0.9, 0.95, 0.99])(
    "needs the published stock for a service of %f, where Poisson may need more",
    (service) => {
      expect(countQuantile(trialCounts(chances), service)).toBe(fleet.value(`stock_exact_${service}`).value);
      const poisson = poissonCounts(fleet.value("expected").value);
      expect(countQuantile(poisson, service)).toBe(fleet.value(`stock_poisson_${service}`).value);
    },
  );

  it("sums ten thousand trials to the binomial", () => {
    // Rscript -e 'print(dbinom(c(2900, 3000, 3200), 10000, 0.3), digits = 15)'
    const found = trialCounts(new Float64Array(10_000).fill(0.3));
    const expected = [
      [2900, 8.00425489730909e-4],
      [3000, 8.70536136506706e-3],
      [3200, 7.01807138224693e-7],
    ] as const;
    for (const [k, chance] of expected) expectAgreement(found[k], chance, { rel: 1e-9 });
    expectAgreement(sumTo(found, found.length), 1, { abs: 1e-12 });
  });

  it("is sure of sure trials and of none, and refuses what is no chance", () => {
    expect([...trialCounts(Float64Array.of(1, 0, 1))]).toEqual([0, 0, 1]);
    expect([...trialCounts(new Float64Array(0))]).toEqual([1]);
    for (const chance of [-0.1, 1.1, Number.NaN])
      expect(() => trialCounts(Float64Array.of(chance))).toThrow(RangeError);
  });
});

describe("sumOfCounts", () => {
  it("sums Poisson counts to a Poisson count, however many", () => {
    const parts = Array.from({ length: 10_000 }, (_, at) => poissonCounts(0.01 * ((at % 7) + 1)));
    const mean = parts.reduce((sum, _, at) => sum + 0.01 * ((at % 7) + 1), 0);
    expectSame(sumOfCounts(parts), poissonCounts(mean), 1e-12);
  });

  it("is 0 of nothing, gives a copy of one, and refuses what are no chances", () => {
    expect([...sumOfCounts([])]).toEqual([1]);
    const one = Float64Array.of(0.5, 0.5);
    expect(sumOfCounts([one])).not.toBe(one);
    for (const wrong of [new Float64Array(0), Float64Array.of(0.5, 0.4), Float64Array.of(1.5, -0.5)]) {
      expect(() => sumOfCounts([one, wrong])).toThrow(RangeError);
    }
  });
});

describe("countsInLots", () => {
  it("gives a chance of 0.6446 that three pieces do for rebuilds of mean 1.25, where Poisson of 2.5 has 0.7576", () => {
    // by hand: P(N <= 1) = exp(-1.25) (1 + 1.25) = 0.644636; exp(-2.5) (1 + 2.5 + 3.125 + 2.604167) = 0.757576
    expectAgreement(sumTo(countsInLots(poissonCounts(1.25), 2), 3), 0.644636, { abs: 5e-7 });
    expectAgreement(sumTo(poissonCounts(2.5), 3), 0.757576, { abs: 5e-7 });
  });

  it("leaves single pieces as they are, needs none of a quantity of 0, and refuses half a piece", () => {
    expectSame(countsInLots(poissonCounts(3), 1), poissonCounts(3), 0);
    expect([...countsInLots(poissonCounts(3), 0)]).toEqual([1]);
    expect(() => countsInLots(poissonCounts(3), 1.5)).toThrow("whole number");
  });
});

describe("thinnedCounts", () => {
  it.each([0, 0.03, 0.5, 1])("thins a Poisson count by %f to a Poisson count", (chance) => {
    for (const mean of [0.2, 8, 700])
      expectSame(thinnedCounts(poissonCounts(mean), chance), poissonCounts(mean * chance));
  });

  it("thins a sure number to the binomial", () => {
    const sure = Float64Array.of(0, 0, 0, 0, 1);
    // by hand: (4 over k) 0.3^k 0.7^(4 - k)
    expectSame(thinnedCounts(sure, 0.3), Float64Array.of(0.2401, 0.4116, 0.2646, 0.0756, 0.0081));
    expect(() => thinnedCounts(sure, 2)).toThrow(RangeError);
  });
});

describe("mixedCounts", () => {
  it("mixes by weight", () => {
    const mixed = mixedCounts([Float64Array.of(1), Float64Array.of(0, 0, 1)], Float64Array.of(3, 1));
    expectSame(mixed, Float64Array.of(0.75, 0, 0.25), 0);
  });

  it("mixes Poisson counts over a gamma mean to the negative binomial", () => {
    // quantiles of an exponential mean of 2 at 4,000 midpoints: a negative binomial of dispersion 1
    const means = Array.from({ length: 4000 }, (_, at) => -2 * Math.log1p(-(at + 0.5) / 4000));
    expectSame(mixedCounts(means.map(poissonCounts)), negativeBinomialCounts(2, 1), 2e-4);
  });

  it("refuses no law, and weights that are none", () => {
    expect(() => mixedCounts([])).toThrow("found 0 of them");
    expect(() => mixedCounts([poissonCounts(1)], Float64Array.of(0))).toThrow("all weights are 0");
    expect(() => mixedCounts([poissonCounts(1)], Float64Array.of(1, 1))).toThrow(RangeError);
    expect(() => mixedCounts([poissonCounts(1)], Float64Array.of(-1))).toThrow(RangeError);
  });
});

describe("countsOfDraws", () => {
  it("gives the shares of drawn counts", () => {
    const random = streamOf(3, 0);
    const drawn = Int32Array.from({ length: 20_000 }, () => random.below(4));
    // standard error 0.003
    expectSame(countsOfDraws(drawn), Float64Array.of(0.25, 0.25, 0.25, 0.25), 0.015);
    expect(() => countsOfDraws(new Int32Array(0))).toThrow("none was drawn");
    expect(() => countsOfDraws(Int32Array.of(-1))).toThrow(RangeError);
  });
});

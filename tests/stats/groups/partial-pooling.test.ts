import { describe, expect, it } from "vitest";
import { checkedLives } from "../../../src/stats/check-lives.ts";
import type { Interval } from "../../../src/stats/fit/quantity.ts";
import { fitCommonShape } from "../../../src/stats/groups/common-shape.ts";
import type { Group } from "../../../src/stats/groups/gather-groups.ts";
import { marginalLikelihood } from "../../../src/stats/groups/marginal-likelihood.ts";
import {
  type PartialPooling,
  type PooledGroup,
  type PoolingOptions,
  partialPooling,
} from "../../../src/stats/groups/partial-pooling.ts";
import type { IntervalLives } from "../../../src/stats/lives.ts";
import { gatherTerms } from "../../../src/stats/weibull/gather-lives.ts";
import { expectAgreement } from "../../agree.ts";
import { lives, scaled } from "./group-data.ts";

const usual: PoolingOptions = { level: 0.95, quantiles: [0.1], sensitivity: false };

function pooling(groups: Group[], options: PoolingOptions = usual): PartialPooling & { converged: true } {
  const found = partialPooling(groups, options);
  if (!found.converged) throw new Error(found.reason);
  return found;
}

function at(found: PartialPooling & { converged: true }, index: number): PooledGroup & { pooled: true } {
  const group = found.groups[index];
  if (!group?.pooled) throw new Error(`group ${index} is not pooled`);
  return group;
}

function expectInterval(found: Interval | undefined, limits: number[], rel: number): void {
  const [low, estimate, high] = limits;
  expectAgreement(found?.low, low ?? 0, { rel }, "low");
  expectAgreement(found?.estimate, estimate ?? 0, { rel }, "median");
  expectAgreement(found?.high, high ?? 0, { rel }, "high");
}

const seven = lives("150 220 310 420 500+ 510 800");

describe("marginalLikelihood", () => {
  const groups = ["100 300 400+", "20+ 90 95+", "500+ 600+"].map((text) => ({
    lives: gatherTerms(checkedLives(lives(text))),
    top: 0.4,
  }));

  it("is the integral over log scale and log shape, for groups of two, one and no failures", () => {
    // SciPy 1.17.1: dblquad(likelihood * normal pdfs, within 9 sd of the means, epsrel=1e-10) for each group, logs added
    const population = { mean: [5.5, 0.4] as [number, number], spread: [0.6, 0.3] as [number, number] };
    expectAgreement(marginalLikelihood(groups, population)?.value, -24.114927451533642, { abs: 1e-5 });
    const first = groups.slice(0, 1);
    expectAgreement(marginalLikelihood(first, population)?.value, -14.569629816508163, { abs: 1e-5 });
    expectAgreement(marginalLikelihood(groups.slice(2), population)?.value, -3.2717506065730197, { abs: 1e-5 });
  });

  it("has derivatives that agree with differences of the value and of the first ones", () => {
    const value = (by: number[]) => {
      const [a = 0, b = 0, c = 0, d = 0] = by;
      const spread: [number, number] = [0.6 * Math.exp(c), 0.3 * Math.exp(d)];
      const found = marginalLikelihood(groups, { mean: [5.5 + a, 0.4 + b], spread });
      if (found === null) throw new Error("no integral");
      return found;
    };
    const { score, hessian } = value([0, 0, 0, 0]);
    for (let row = 0; row < 4; row++) {
      const by = [0, 1, 2, 3].map((of) => (of === row ? 1e-2 : 0));
      const [up, down] = [value(by), value(by.map((step) => -step))];
      expectAgreement(score[row], (up.value - down.value) / 2e-2, { abs: 1e-3 });
      for (let column = 0; column < 4; column++) {
        const slope = ((up.score[column] ?? 0) - (down.score[column] ?? 0)) / 2e-2;
        expectAgreement(hessian[4 * row + column], slope, { abs: 2e-3 }, `${row} ${column}`);
      }
    }
  });
});

describe("partialPooling", () => {
  it("finds the likeliest population of six groups", () => {
    const texts = [
      "101 103 108 110+",
      "40 180 300+ 20",
      "500 620 350",
      "150 220 310 420 500+ 510 800",
      "60 75 110 240 1",
      "210 230 240 260 300+",
    ];
    const { population, priors, sensitivity } = pooling(texts.map(lives));
    // numpy and SciPy 1.17.1: likelihoods summed over an even grid of log scale (1 to 10 by 0.01) and log shape (-3 to 5 by 0.02)
    // with normal weights, minimize(method="Nelder-Mead", xatol=1e-6)
    expectAgreement(population.likeliestMeans.logScale, 5.55186653, { abs: 1e-3 });
    expectAgreement(population.likeliestMeans.logShape, 0.7229374, { abs: 1e-3 });
    expectAgreement(population.logScaleSpread.likeliest, 0.5958596, { rel: 1e-3 });
    expectAgreement(population.logShapeSpread.likeliest, 0.84927101, { rel: 1e-3 });
    expectAgreement(population.logLikelihood, -156.99763461825572, { abs: 1e-3 });
    expect(priors).toBeNull();
    expect(sensitivity).toEqual([]);
  });

  it("of one group has the posterior of a flat prior, with nearly all the weight on its own lives", () => {
    const group = at(pooling([seven]), 0);
    // numpy: likelihood on an even grid of log scale (3 to 12 by 0.005) and log shape (-4 to 3 by 0.005), weighted quantiles
    expectInterval(group.shape, [0.71892373, 1.73325302, 3.20592288], 0.01);
    expectInterval(group.scale, [303.38420331, 518.01282467, 1012.31999453], 0.01);
    expectInterval(group.quantiles[0], [21.05877234, 142.54064057, 301.53381337], 0.02);
    expect(group.scale.ownWeight).toBeGreaterThan(0.99);
  });

  it("of four small groups has the posterior of a sum over means and spreads, within what the normal means lose", () => {
    const found = pooling(["100 300 400+", "20+ 90 95+", "500+ 600+", "150 220 310 420 500+ 510 800"].map(lives));
    expect(found.priors).toEqual({ logScale: 0.5, logShape: 0.3 });
    expect(at(found, 2).own).toEqual({ converged: false, reason: "there are no failures", failures: 0 });
    // numpy: sums over even grids of log scale (1 to 12 by 0.025), log shape (-3 to 3 by 0.02), the means (3.2 to 9.8 by 0.11, -2.4 to
    // 2.6 by 0.083) and the spreads (0.04 to 1.75 by 0.08, 0.03 to 1.05 by 0.06) with half-normal priors 0.5 and 0.3
    const group = at(found, 0);
    expectInterval(group.shape, [0.59452055, 1.40494759, 2.66445624], 0.08);
    expectInterval(group.scale, [238.65046693, 505.22304246, 1373.33861563], 0.1);
    expectInterval(group.quantiles[0], [12.61967532, 99.44697169, 262.24548442], 0.12);
  });

  it("says how far it moved, and gives the same under half and twice the priors", () => {
    const found = pooling([seven, lives("900 1000 1300+"), lives("20+ 90 95+")], { level: 0.95, quantiles: [0.1] });
    const group = at(found, 1);
    const own = group.own.converged ? group.own.shape : 0;
    expectAgreement(group.shape.logMoved, Math.log(group.shape.estimate / own), { abs: 1e-12 });
    expectAgreement(group.shape.percentMoved, 100 * (group.shape.estimate / own - 1), { abs: 1e-9 });
    expect(at(found, 2).shape.logMoved).toBeNull();
    expect(found.sensitivity.map(({ priors }) => priors)).toEqual([
      { logScale: 0.25, logShape: 0.15 },
      { logScale: 1, logShape: 0.6 },
    ]);
    const [tight, loose] = found.sensitivity;
    const gap = (of: typeof tight) => (of?.groups[1]?.scale.estimate ?? 0) / (of?.groups[0]?.scale.estimate ?? 1);
    expect(gap(tight)).toBeLessThan(gap(loose));
    expect(group.scale.ownWeight).toBeGreaterThan(at(found, 2).scale.ownWeight);
  });

  it("comes to the fit of one shape and one scale when many groups are alike", () => {
    const groups = Array<Group>(12).fill(seven);
    const found = pooling(groups);
    const common = fitCommonShape(groups);
    const shape = common.converged ? common.shape : 0;
    expect([found.population.logScaleSpread.likeliest, found.population.logShapeSpread.likeliest]).toEqual([0, 0]);
    for (let index = 0; index < 12; index++) {
      expectAgreement(at(found, index).shape.estimate, shape, { rel: 0.04 });
      expectAgreement(at(found, index).scale.estimate, 500.856, { rel: 0.02 }, "the scale of seven by itself");
      expect(at(found, index).scale.ownWeight).toBeLessThan(0.3);
    }
  });

  it("keeps the groups' own scales when they are 1e9 and 1e-6 of one another", () => {
    const found = pooling([scaled(seven, 1e9), scaled(seven, 1e-6), seven]);
    for (const [index, factor] of [1e9, 1e-6, 1].entries()) {
      // The prior of a spread of 0.5 pulls at scales that are 15 powers of ten apart, but no further than this.
      expectAgreement(at(found, index).scale.estimate / factor, 500.856, { rel: 0.2 }, "the scale of seven by itself");
      expect(at(found, index).scale.ownWeight).toBeGreaterThan(0.95);
    }
  });

  it("does not depend on the unit", () => {
    const texts = ["100 300 400+", "20+ 90 95+", "150 220 310 420"].map(lives);
    const [plain, other] = [pooling(texts), pooling(texts.map((group) => scaled(group, 1e-6)))];
    expectAgreement(at(other, 1).shape.estimate, at(plain, 1).shape.estimate, { rel: 1e-2 });
    expectAgreement((at(other, 1).scale.low ?? 0) * 1e6, at(plain, 1).scale.low ?? 0, { rel: 1e-2 });
  });

  const between: IntervalLives = {
    low: Float64Array.of(0, 100, 200, 400),
    high: Float64Array.of(100, 200, 400, Number.POSITIVE_INFINITY),
  };
  it.each([
    { what: "all failures at one age", group: lives("300 300 300 400+") },
    { what: "interval-censored lives", group: between },
    { what: "99.8 % running", group: { ...lives("700 900 1000+"), count: Float64Array.of(1, 1, 998) } },
    { what: "late entry", group: { ...lives("150 220 310"), entry: Float64Array.of(100, 0, 300) } },
    { what: "one life that runs", group: lives("5+") },
  ])("takes a group with $what: limits in order", ({ group }) => {
    const found = at(pooling([seven, group]), 1);
    for (const { low, estimate, high, ownWeight } of [found.shape, found.scale, ...found.quantiles]) {
      expect(low).toBeGreaterThan(0);
      expect(estimate).toBeGreaterThan(low ?? Number.NaN);
      expect(high).toBeGreaterThan(estimate);
      expect(high).toBeLessThan(1e9);
      expect(ownWeight >= 0 && ownWeight <= 1).toBe(true);
    }
  });

  it("says why there is nothing to pool, or which group can't take part", () => {
    const reason = "no group has two failures at different ages";
    for (const groups of [[], [lives("")], [lives("5+"), lives("6+")], [lives("5 6+"), lives("7 9+")]]) {
      expect(partialPooling(groups, usual)).toEqual({ converged: false, reason });
    }
    expect(pooling([seven, lives("0 4"), lives(""), lives("100+ 300 300")]).groups.slice(1)).toEqual([
      { pooled: false, reason: "1 life is of length 0", failures: 2 },
      { pooled: false, reason: "there are no lives", failures: 0 },
      {
        pooled: false,
        reason: "all failures are at one age and no life is longer: the likelihood rises without end with the shape",
        failures: 2,
      },
    ]);
    expect(() => partialPooling([seven], { level: 1, quantiles: [] })).toThrow(RangeError);
    expect(() => partialPooling([seven], { level: 0.9, quantiles: [0] })).toThrow("found 0");
    expect(() => partialPooling([seven], { ...usual, priors: { logScale: 0, logShape: 1 } })).toThrow("found 0,1");
  });
});

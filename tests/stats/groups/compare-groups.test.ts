import { describe, expect, it } from "vitest";
import { type ConvergedCommonShape, fitCommonShape } from "../../../src/stats/groups/common-shape.ts";
import { compareGroups, type RatioTest } from "../../../src/stats/groups/compare-groups.ts";
import type { Group } from "../../../src/stats/groups/gather-groups.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { fitWeibull } from "../../../src/stats/weibull/fit.ts";
import { gatherLives } from "../../../src/stats/weibull/gather-lives.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { capacitorsByVoltage, control, lives, scaled, treated } from "./group-data.ts";

function fitted(groups: Group[]): ConvergedCommonShape {
  const fit = fitCommonShape(groups);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return fit;
}

function part(fit: ConvergedCommonShape, at: number) {
  const group = fit.groups[at];
  if (!group?.converged) throw new Error(`group ${at} took no part`);
  return group;
}

function done(test: RatioTest) {
  if (!test.tested) throw new Error(`not tested: ${test.reason}`);
  return test;
}

describe("fitCommonShape", () => {
  it("W-LR3: intercept 3.516 (0.252), control -1.267 (0.311), scale 0.7322, log-likelihood -106.6", () => {
    const fit = fitted([treated, control]);
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, status) ~ g, gehan)
    const [first, second] = [part(fit, 0), part(fit, 1)];
    expectAgreement(Math.log(first.scale), 3.515686946, { abs: 1e-6 });
    expectAgreement(Math.log(second.scale / first.scale), -1.267334585, { abs: 1e-6 });
    expectAgreement(1 / fit.shape, 0.732194, { abs: 1e-6 });
    expectAgreement(fit.logLikelihood, -106.579491582, { abs: 1e-8 });
    expectAgreement(Math.sqrt(first.covariance[0][0]), 0.2517810194, { rel: 1e-6 });
    expectAgreement(Math.sqrt(fit.variance), 0.1472918824, { rel: 1e-6 });
  });

  it("agrees with survreg on 64 capacitors at four voltages", () => {
    const fit = fitted(capacitorsByVoltage());
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, status) ~ factor(voltage)); vcov(); R's covariances are with log(1 / shape)
    const first = Math.log(part(fit, 0).scale);
    expectAgreement(first, 7.2195361766, { abs: 1e-7 });
    for (const [at, coefficient] of [-0.2868704474, -0.8020364253, -0.811633223].entries()) {
      expectAgreement(Math.log(part(fit, at + 1).scale) - first, coefficient, { abs: 1e-7 });
    }
    expectAgreement(1 / fit.shape, 0.381454507, { rel: 1e-7 });
    expectAgreement(fit.logLikelihood, -245.3926292, { abs: 1e-6 });
    const [[vScale, across], [, vShape]] = part(fit, 0).covariance;
    expectAgreement(vScale, 0.019564022434, { rel: 1e-6 });
    expectAgreement(across, -0.005623721516, { rel: 1e-6 });
    expectAgreement(vShape, 0.022991209464, { rel: 1e-6 });
    // cov(intercept, coefficient of 250 V) = cov(log scale 1, log scale 2) - var(log scale 1)
    const between = (across * part(fit, 1).covariance[0][1]) / vShape;
    expectAgreement(between - vScale, -0.019084076531, { rel: 1e-6 });
  });

  it("takes interval-censored lives: cosmetic deterioration after two treatments", () => {
    const data = new PublishedCase("09a_cosmesis");
    const [name, left, right] = [
      data.texts("group"),
      data.numbers("left", 0),
      data.numbers("right", Number.POSITIVE_INFINITY),
    ];
    const groups: IntervalLives[] = ["radiotherapy", "radiotherapy_chemotherapy"].map((group) => ({
      low: left.filter((_, life) => name[life] === group),
      high: right.filter((_, life) => name[life] === group),
    }));
    const found = compareGroups(groups);
    const fit = fitted(groups);
    // R 4.2.2, survival 3.5-3: survreg(Surv(left, right, type = "interval2") ~ group, control = list(rel.tolerance = 1e-13))
    expectAgreement(Math.log(part(fit, 0).scale), 3.8992762304, { abs: 1e-6 });
    expectAgreement(Math.log(part(fit, 1).scale / part(fit, 0).scale), -0.5675505366, { abs: 1e-6 });
    expectAgreement(1 / fit.shape, 0.6193397052, { rel: 1e-6 });
    expectAgreement(fit.logLikelihood, -143.3208271, { abs: 1e-6 });
    expectAgreement(Math.sqrt(part(fit, 0).covariance[0][0]), 0.1405297913, { rel: 1e-4 });
    expectAgreement(Math.sqrt(fit.variance), 0.119891982, { rel: 1e-4 });
    // the same with + strata(group): -140.4465390
    expectAgreement(done(found.oneShape).chiSquare, 2 * (143.3208271 - 140.446539), { abs: 1e-5 });
  });

  it("takes late entry: rebuild-like lives in two groups, against a likelihood written in R", () => {
    const data = new PublishedCase("08b_delayed_entry");
    const unit = data.numbers("unit");
    const groups: Lives[] = [1, 0].map((odd) => ({
      time: data.numbers("exit_hours").filter((_, life) => unit[life]! % 2 === odd),
      failed: data.flags("failed").filter((_, life) => unit[life]! % 2 === odd),
      entry: data.numbers("entry_hours").filter((_, life) => unit[life]! % 2 === odd),
    }));
    const fit = fitted(groups);
    // R 4.2.2: optim (Nelder-Mead, then BFGS) on sum[failed log f(t)] - (t / scale)^b + (entry / scale)^b, optimHess with ndeps 1e-4
    expectAgreement(part(fit, 0).scale, 15405.17816, { rel: 1e-5 });
    expectAgreement(part(fit, 1).scale, 17899.58429, { rel: 1e-5 });
    expectAgreement(fit.shape, 1.829411614, { rel: 1e-5 });
    expectAgreement(fit.logLikelihood, -772.6459294, { abs: 1e-6 });
    expectAgreement(Math.sqrt(part(fit, 0).covariance[0][0]), 0.09005448841, { rel: 1e-4 });
    expectAgreement(Math.sqrt(part(fit, 1).covariance[0][0]), 0.09283217904, { rel: 1e-4 });
    expectAgreement(Math.sqrt(fit.variance), 0.10505057202, { rel: 1e-4 });
  });

  it("of one group is that group's own fit", () => {
    const [fit, own] = [fitted([treated]), fitWeibull(treated)];
    if (!own.converged) throw new Error(own.reason);
    const [[vScale, across], [, vShape]] = own.covariance;
    expectAgreement(fit.shape, own.shape, { rel: 1e-9 }, "the joint maximum is the maximum of the profile");
    expectAgreement(part(fit, 0).scale, own.scale, { rel: 1e-9 });
    expectAgreement(part(fit, 0).covariance[0][0], vScale, { rel: 1e-7 });
    expectAgreement(part(fit, 0).covariance[0][1], across, { rel: 1e-7 });
    expectAgreement(fit.variance, vShape, { rel: 1e-7 });
  });

  it("keeps a group with one failure, or with all failures at one age, and leaves one without failures out", () => {
    const fit = fitted([treated, lives("50 80+ 90+"), lives("30 30 30+"), lives("200+ 300+"), lives("")]);
    // score of the scale, by hand: failures = sum of (t / scale)^shape
    const sum = (ages: number[], scale: number) => ages.reduce((all, age) => all + (age / scale) ** fit.shape, 0);
    expectAgreement(sum([50, 80, 90], part(fit, 1).scale), 1, { rel: 1e-9 });
    expectAgreement(sum([30, 30, 30], part(fit, 2).scale), 2, { rel: 1e-9 });
    expect(fit.groups[3]).toEqual({
      converged: false,
      reason: "there are no failures: no scale is too long for them",
      failures: 0,
    });
    expect(fit.groups[4]).toEqual({ converged: false, reason: "there are no lives", failures: 0 });
    expect(fit.failures).toBe(9 + 1 + 2);
  });

  it.each([
    { groups: [], reason: "no group has two failures at different ages" },
    { groups: [lives("")], reason: "no group has two failures at different ages" },
    { groups: [lives("5+ 6+"), lives("7")], reason: "no group has two failures at different ages" },
    { groups: [lives("5 5"), lives("7 7 7")], reason: "no group has two failures at different ages" },
    { groups: [lives("0 5 6")], reason: "no group has two failures at different ages" },
  ])("refuses $groups.length groups that can't tell a shape", ({ groups, reason }) => {
    const fit = fitCommonShape(groups);
    expect(fit.converged ? "" : fit.reason).toBe(reason);
  });

  it("leaves out a group of which nothing is known to have run, or with a life of no length", () => {
    const before: IntervalLives = { low: Float64Array.of(0, 0), high: Float64Array.of(5, 6) };
    const fit = fitted([treated, before, lives("0 4 9")]);
    expect(fit.groups.slice(1).map((group) => (group.converged ? "" : group.reason))).toEqual([
      "all failures are only known to lie before an age: no scale is too short for them",
      "1 life is of length 0",
    ]);
    expectAgreement(fit.shape, fitted([treated]).shape, { rel: 1e-12 });
  });

  it("takes scales of 1e9 and 1e-6 side by side: a group's unit moves its scale alone", () => {
    const [plain, mixed] = [fitted([treated, control]), fitted([scaled(treated, 1e9), scaled(control, 1e-6)])];
    expectAgreement(mixed.shape, plain.shape, { rel: 1e-9 });
    expectAgreement(part(mixed, 0).scale / 1e9, part(plain, 0).scale, { rel: 1e-9 });
    expectAgreement(part(mixed, 1).scale * 1e6, part(plain, 1).scale, { rel: 1e-9 });
  });

  it("takes 99 % running lives, and gathered lives in place of lives", () => {
    const few: Lives = {
      time: Float64Array.of(700, 900, 1000),
      failed: Uint8Array.of(1, 1, 0),
      count: Float64Array.of(1, 1, 198),
    };
    const gathered = gatherLives(few);
    if ("refused" in gathered) throw new Error(gathered.refused);
    const [fit, again] = [fitted([few, treated]), fitted([gathered, treated])];
    expectAgreement(200 / (part(fit, 0).scale / 1000) ** fit.shape, 2, { abs: 0.6 }, "two failures expected");
    expect(again.shape).toBe(fit.shape);
  });
});

describe("compareGroups", () => {
  it("tests capacitors at four voltages: one shape 0.0814, one distribution 3.43e-4, one scale 3.87e-4", () => {
    const { separate, together, oneShape, oneDistribution, oneScale } = compareGroups(capacitorsByVoltage());
    // R 4.2.2, survival 3.5-3: survreg with ~ factor(voltage) + strata(voltage), ~ factor(voltage), ~ 1; pchisq(..., lower = FALSE)
    const shapes = [0.1509296415, 0.5152323467, 0.3841794254, 0.4082744711];
    for (const [at, fit] of separate.entries()) {
      expectAgreement(fit.converged ? 1 / fit.shape : null, shapes[at]!, { rel: 1e-5 });
    }
    expectAgreement(together.converged ? together.logLikelihood : null, -254.5271445, { abs: 1e-6 });
    expectAgreement(together.converged ? Math.log(together.scale) : null, 6.940093636, { abs: 1e-6 });
    for (const [test, wide, narrow, degrees, p] of [
      [oneShape, -242.0325709, -245.3926292, 3, 0.08137435596],
      [oneDistribution, -242.0325709, -254.5271445, 6, 0.0003430380624],
      [oneScale, -245.3926292, -254.5271445, 3, 0.0003870786845],
    ] as const) {
      expectAgreement(done(test).chiSquare, 2 * (wide - narrow), { abs: 1e-5 });
      expectAgreement(done(test).p, p, { rel: 1e-5 });
      expect(done(test).degrees).toBe(degrees);
    }
  });

  it("W-LR3: treated and control differ, chi-square 19.65 on 1 degree (null -116.4)", () => {
    const { oneScale, together } = compareGroups([treated, control]);
    expectAgreement(done(oneScale).chiSquare, 2 * (116.40540698 - 106.579491582), { abs: 1e-6 });
    expectAgreement(together.converged ? together.logLikelihood : null, -116.40540698, { abs: 1e-7 });
  });

  it("compares the groups that have the failures, and says how many", () => {
    const whole = compareGroups([treated, control]);
    const more = compareGroups([treated, lives("40+ 50+"), control, lives("9 10+"), lives("")]);
    expectAgreement(done(more.oneShape).chiSquare, done(whole.oneShape).chiSquare, { abs: 1e-7 });
    expect([done(more.oneShape).groups, done(more.oneScale).groups]).toEqual([2, 3]);
    expect(more.separate.map((fit) => (fit.converged ? "" : fit.reason))).toEqual([
      "",
      "there are no failures",
      "",
      "there is only one failure; shape and scale need two",
      "there are no lives",
    ]);
  });

  it("finds no difference between a group and itself", () => {
    const { oneShape, oneDistribution } = compareGroups([control, control]);
    expectAgreement(done(oneShape).chiSquare, 0, { abs: 1e-9 });
    expectAgreement(done(oneDistribution).p, 1, { abs: 1e-6 });
  });

  it("does not test one group, nor groups without failures", () => {
    const reason = "there are fewer than two groups with enough failures to compare";
    expect(compareGroups([treated]).oneShape).toEqual({ tested: false, reason });
    const none = compareGroups([lives("5+"), lives("6+ 7+")]);
    expect([none.oneShape, none.oneDistribution, none.oneScale]).toEqual(Array(3).fill({ tested: false, reason }));
    expect(none.together).toEqual({
      converged: false,
      reason: "there are fewer than two failures in all",
      failures: 0,
    });
    const alike = compareGroups([lives("5 5+"), lives("5 6+")]).together;
    expect(alike.converged ? "" : alike.reason).toMatch(/^all failures are at one age/);
  });
});

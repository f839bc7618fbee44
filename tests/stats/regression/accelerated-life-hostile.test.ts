import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { fitAcceleratedLife } from "../../../src/stats/regression/accelerated-life.ts";
import { scoreResiduals } from "../../../src/stats/regression/score-residuals.ts";
import { expectAgreement } from "../../agree.ts";
import { column, FAMILIES, fitted, refused } from "./regression-data.ts";

const time = Float64Array.of(120, 250, 310, 455, 520, 610, 700, 810, 905, 1100);
const failed = Uint8Array.of(1, 1, 0, 1, 1, 1, 0, 1, 1, 1);
const x = Float64Array.of(1, 2, 3, 2, 4, 1, 5, 3, 2, 4);
const g = Float64Array.of(0, 1, 0, 1, 0, 1, 0, 1, 0, 1);
const lives: Lives = { time, failed };
const only = (...rows: number[]) => Uint8Array.from(time, (_, row) => (rows.includes(row) ? 1 : 0));
const endless = Number.POSITIVE_INFINITY;
const inspected: IntervalLives = {
  low: Float64Array.of(0, 0, 5, 5, 0, 5),
  high: Float64Array.of(5, 5, endless, endless, 5, endless),
};

describe("fitAcceleratedLife", () => {
  it.each([
    {
      name: "no failures",
      lives: { time, failed: only() },
      covariates: [column("x", x)],
      reason: "there are no failures",
    },
    {
      name: "no lives",
      lives: { time: new Float64Array(0), failed: new Uint8Array(0) },
      covariates: [column("x", [])],
      reason: "there are no failures",
    },
    {
      name: "counts of 0",
      lives: { ...lives, count: new Float64Array(10) },
      covariates: [column("x", x)],
      reason: "there are no failures",
    },
    {
      name: "one failure",
      lives: { time, failed: only(3) },
      covariates: [column("x", x)],
      reason: "there is only one failure; shape and scale need two",
    },
    {
      name: "all failures at one age",
      lives: { time: time.map(() => 500), failed },
      covariates: [column("x", x)],
      reason: "all failures are at the one age 500, which tells nothing of the shape",
    },
    {
      name: "one age in each level",
      lives: { time: g.map((level) => (level === 1 ? 500 : 300)), failed },
      covariates: [column("g", g)],
      reason: "the likelihood keeps rising as the shape grows: the covariates tell every failure's age",
    },
    {
      name: "a covariate that tells all",
      lives: { time: x.map(Math.exp), failed: only(...x.keys()) },
      covariates: [column("x", x)],
      reason: "the likelihood keeps rising as the shape grows: the covariates tell every failure's age",
    },
    {
      name: "a life of length 0",
      lives: { time: time.with(0, 0), failed },
      covariates: [column("x", x)],
      reason: "1 life is of length 0",
    },
    {
      name: "a constant",
      lives,
      covariates: [
        column("x", x),
        column(
          "lube",
          x.map(() => 3),
        ),
      ],
      reason: 'covariate "lube" is the same for all lives',
    },
    {
      name: "a column that follows from others",
      lives,
      covariates: [
        column("x", x),
        column("g", g),
        column(
          "y",
          x.map((value, row) => 2 * value - 3 * g[row]! + 7),
        ),
      ],
      reason: 'covariate "y" follows from "x", "g"',
    },
    {
      name: "more columns than lives",
      lives: { time: time.slice(0, 3), failed: Uint8Array.of(1, 1, 1) },
      covariates: [column("x", [1, 2, 4]), column("g", [0, 1, 0]), column("y", [5, 1, 1])],
      reason: 'covariate "y" follows from "x", "g"',
    },
    {
      name: "a level that never failed",
      lives,
      covariates: [column("grease", [0, 0, 1, 0, 0, 0, 1, 0, 0, 0]), column("g", g)],
      reason:
        'the coefficient of "grease" runs away: it is 0 for every failure, so that other values are never seen to fail',
    },
    {
      name: "a base level that never failed",
      lives,
      covariates: [column("a", [1, 0, 0, 1, 0, 1, 0, 1, 0, 0]), column("b", [0, 1, 0, 0, 1, 0, 0, 0, 1, 1])],
      reason: 'the coefficient of "b" runs away: among the failures it follows from "a"',
    },
  ])("says why there is none: $name", ({ lives: of, covariates, reason }) => {
    expect(refused(fitAcceleratedLife(of, covariates))).toBe(reason);
  });

  it.each(FAMILIES)("says that a coefficient runs away, whatever the family: %s", (family) => {
    const grease = column("grease", [0, 0, 1, 0, 0, 0, 1, 0, 0, 0]);
    expect(refused(fitAcceleratedLife(lives, [grease], family))).toContain('"grease" runs away');
  });

  it.each(["weibull", "lognormal", "log-logistic"] as const)(
    "says that one inspection tells no shape: %s",
    (family) => {
      expect(refused(fitAcceleratedLife(inspected, [column("x", [1, 2, 1, 3, 3, 2])], family))).toContain(
        "flat at its maximum",
      );
    },
  );

  it("needs one failure where no shape is fitted, and tells what it tells", () => {
    const one = { time, failed: only(3) };
    // By hand: the likelihood of an exponential life is greatest at the total time per failure.
    const plain = fitted({ lives: one, covariates: [] }, "exponential");
    expectAgreement(plain.coefficients[0], Math.log(5780), { abs: 1e-12 });
    expect(refused(fitAcceleratedLife(one, [column("g", g)], "exponential"))).toContain('"g" runs away');
  });

  it("leaves rows out that stand for no life", () => {
    const count = Float64Array.of(1, 1, 1, 1, 1, 1, 1, 1, 0, 0);
    const part = (values: Float64Array) => values.slice(0, 8);
    const wild = [column("x", x.with(9, 1e12)), column("g", g)];
    const [found, expected] = [
      fitted({ lives: { ...lives, count }, covariates: wild }),
      fitted({
        lives: { time: part(time), failed: failed.slice(0, 8) },
        covariates: [column("x", part(x)), column("g", part(g))],
      }),
    ];
    for (const [at, value] of expected.coefficients.entries())
      expectAgreement(found.coefficients[at], value, { rel: 1e-11 });
  });

  const columns = [column("x", x), column("g", g)];

  it.each(FAMILIES)("moves the intercept alone when ages are in another unit: %s", (family) => {
    const base = fitted({ lives, covariates: columns }, family);
    fc.assert(
      fc.property(fc.double({ min: -9, max: 9, noNaN: true }), (power) => {
        const unit = 10 ** power;
        const found = fitted({ lives: { time: time.map((age) => age * unit), failed }, covariates: columns }, family);
        expectAgreement(found.coefficients[0], base.coefficients[0]! + Math.log(unit), { abs: 1e-10 }, "intercept");
        for (const at of [1, 2]) expectAgreement(found.coefficients[at], base.coefficients[at]!, { abs: 1e-11 });
        expectAgreement(found.sigma, base.sigma, { rel: 1e-11 });
        expectAgreement(found.logLikelihood, base.logLikelihood - 8 * Math.log(unit), { abs: 1e-9 });
        for (const at of [0, 1, 2])
          expectAgreement(found.covariance[at]![at], base.covariance[at]![at]!, { rel: 1e-9 });
      }),
      { seed: 6, numRuns: 40 },
    );
  });

  it.each(FAMILIES)("finds the same effect of a covariate in another unit and far from 0: %s", (family) => {
    const base = fitted({ lives, covariates: columns }, family);
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (power, offset) => {
          const unit = 10 ** power;
          const moved = column(
            "x",
            x.map((value) => (value + offset) * unit),
          );
          const found = fitted({ lives, covariates: [moved, columns[1]!] }, family);
          // A value near 1e6 is known to 1e-16 of that: 1e-10 of its differences.
          expectAgreement(found.coefficients[1]! * unit, base.coefficients[1]!, { rel: 1e-8 }, "effect");
          expectAgreement(found.coefficients[2], base.coefficients[2]!, { abs: 1e-8 });
          expectAgreement(found.logLikelihood, base.logLikelihood, { abs: 1e-8 });
          expectAgreement(found.covariance[1]![1]! * unit ** 2, base.covariance[1]![1]!, { rel: 1e-7 });
        },
      ),
      { seed: 6, numRuns: 40 },
    );
  });

  it("does not depend on the order of the rows", () => {
    const base = fitted({ lives, covariates: columns });
    const order = [3, 9, 1, 0, 7, 5, 2, 8, 6, 4];
    const turned = (values: Float64Array) => Float64Array.from(order, (row) => values[row]!);
    const found = fitted({
      lives: { time: turned(time), failed: Uint8Array.from(order, (row) => failed[row]!) },
      covariates: columns.map(({ name, values }) => ({ name, values: turned(values) })),
    });
    for (const [at, value] of base.coefficients.entries())
      expectAgreement(found.coefficients[at], value, { abs: 1e-12 });
  });

  it.each(FAMILIES)("is at ease with a covariate of which one value is a million times the others: %s", (family) => {
    const far = column("x", x.with(2, 1e6));
    // The row that stands so far off was removed: with a longer life it counts for nothing, so that the others' fit is left.
    const others = fitted(
      {
        lives: { time: time.filter((_, row) => row !== 2), failed: failed.filter((_, row) => row !== 2) },
        covariates: columns.map(({ name, values }) => ({ name, values: values.filter((_, row) => row !== 2) })),
      },
      family,
    );
    const found = fitted({ lives, covariates: [far, columns[1]!] }, family);
    for (const [at, value] of others.coefficients.entries())
      expectAgreement(found.coefficients[at], value, { rel: 1e-6 });
  });

  it.each(FAMILIES)("finds a level that four of many lives have, where a sample would miss it: %s", (family) => {
    const size = 120_000;
    const ages = Float64Array.from({ length: size }, (_, row) => 100 + ((row * 7919) % 1009));
    const kept = Uint8Array.from(ages, (_, row) => (row % 2 === 0 ? 1 : 0));
    const rare = ages.map((_, row) => (row % 6 === 4 && row < 24 ? 1 : 0));
    const fit = fitted({ lives: { time: ages, failed: kept }, covariates: [column("rare", rare)] }, family);
    expect(fit.coefficients.every(Number.isFinite)).toBe(true);
    // Four failures tell their level to about half of sigma.
    const error = Math.sqrt(fit.covariance[1]![1]!) / fit.sigma;
    expect(error).toBeGreaterThan(0.3);
    expect(error).toBeLessThan(1.2);
  });

  it("gives a top or a reason for any lives", () => {
    const life = fc.record({
      kind: fc.constantFrom("exact", "removed", "before", "within"),
      age: fc.oneof(fc.integer({ min: 1, max: 40 }), fc.double({ min: 1e-3, max: 1e5, noNaN: true })),
      width: fc.double({ min: 1e-3, max: 2, noNaN: true }),
      late: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 0.9, noNaN: true })),
      count: fc.constantFrom(0, 1, 1, 1, 2),
      covariates: fc.tuple(
        fc.constantFrom(0, 1),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.constantFrom(0, 1, 50_000),
      ),
    });
    const sizes = { reasons: 0, tops: 0 };
    fc.assert(
      fc.property(
        fc.array(life, { minLength: 2, maxLength: 25 }),
        fc.constantFrom(...FAMILIES),
        fc.nat(3),
        (rows, family, used) => {
          const known = ({ kind, age }: (typeof rows)[number]) => (kind === "before" ? 0 : age);
          const set: IntervalLives = {
            low: Float64Array.from(rows, known),
            high: Float64Array.from(rows, ({ kind, age, width }) => {
              if (kind === "removed") return endless;
              return kind === "within" ? age * (1 + width) : age;
            }),
            entry: Float64Array.from(rows, (row) => row.late * known(row)),
            count: Float64Array.from(rows, ({ count }) => count),
          };
          const covariates = ["a", "b", "c"].slice(0, used).map((name, at) =>
            column(
              name,
              rows.map((row) => row.covariates[at]!),
            ),
          );
          const fit = fitAcceleratedLife(set, covariates, family);
          if (!fit.converged) {
            sizes.reasons++;
            expect(fit.reason).not.toBe("");
            return;
          }
          sizes.tops++;
          const figures = [...fit.coefficients, fit.sigma, fit.logLikelihood, ...fit.covariance.flat()];
          expect(figures.every(Number.isFinite)).toBe(true);
          expect(fit.logLikelihood).toBeGreaterThan((fit.nullLogLikelihood ?? Number.NEGATIVE_INFINITY) - 1e-6);
          for (const [at, score] of scoreResiduals(set, covariates, fit).entries()) {
            const sum = score.reduce((all, value) => all + value, 0);
            const errors = Math.abs(sum) * Math.sqrt(fit.covariance[at]![at]!);
            const share = Math.abs(sum) / score.reduce((all, value) => all + Math.abs(value), Number.MIN_VALUE);
            expect(Math.min(errors / 1e-6, share / 1e-9)).toBeLessThan(1);
          }
        },
      ),
      { seed: 6, numRuns: 400 },
    );
    expect(sizes.tops).toBeGreaterThan(100);
    expect(sizes.reasons).toBeGreaterThan(50);
  });
});

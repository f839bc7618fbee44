import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { streamOf } from "../../../src/stats/random/stream.ts";
import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import { type ConvergedHazards, fitProportionalHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heartModel, lungModel, nineLives, sixLives } from "./hazard-cases.ts";

/**
 * The partial log-likelihood as it is written down, pair by pair: Efron's with n tied failures of mean weight w and terms
 * sum over at risk - (l / n) sum over the failures.
 */
function partialLogLikelihood(
  { lives, covariates, stratum, offset, weight, ties }: HazardModel,
  b: Float64Array,
): number {
  const { time, failed, entry } = lives;
  const rows = Array.from(time.keys());
  const log = rows.map((row) =>
    covariates.reduce((sum, { values }, one) => sum + b[one]! * values[row]!, offset?.[row] ?? 0),
  );
  const own = rows.map((row) => weight?.[row] ?? 1);
  const hazard = (row: number) => own[row]! * Math.exp(log[row]!);
  const total = (some: number[], of: (row: number) => number) => some.reduce((sum, row) => sum + of(row), 0);
  let value = 0;
  const seen = new Set<string>();
  for (const row of rows) {
    const key = `${stratum?.[row]} ${time[row]}`;
    if (failed[row] === 0 || seen.has(key)) continue;
    seen.add(key);
    const alike = rows.filter((other) => stratum?.[other] === stratum?.[row]);
    const tied = alike.filter((other) => failed[other] === 1 && time[other] === time[row]);
    const atRisk = alike.filter(
      (other) =>
        time[other]! >= time[row]! && (entry === undefined || entry[other] === 0 || entry[other]! < time[row]!),
    );
    value += total(tied, (other) => own[other]! * log[other]!);
    for (let term = 0; term < tied.length; term++) {
      const share = ties === "breslow" ? 0 : term / tied.length;
      value -=
        (total(tied, (other) => own[other]!) / tied.length) *
        Math.log(total(atRisk, hazard) - share * total(tied, hazard));
    }
  }
  return value;
}

/** 30 lives with ties, late entry, strata, weights and offsets, by a seed. */
function drawnModel(seed: number, ties: "efron" | "breslow"): HazardModel {
  const stream = streamOf(seed, 0);
  const columns = <T>(of: () => T) => Array.from({ length: 30 }, of);
  const time = Float64Array.from(columns(() => 1 + stream.below(12)));
  return {
    lives: {
      time,
      failed: Uint8Array.from(columns(() => (stream.below(3) > 0 ? 1 : 0))),
      entry: time.map((end) => stream.below(end)),
    },
    covariates: ["a", "b"].map((name) => ({ name, values: Float64Array.from(columns(() => stream.below(100) / 50)) })),
    stratum: Int32Array.from(columns(() => stream.below(2))),
    offset: Float64Array.from(columns(() => stream.below(100) / 100)),
    weight: Float64Array.from(columns(() => 0.5 + stream.below(4))),
    ties,
  };
}

describe("fitProportionalHazards against the partial likelihood as it is written down", () => {
  const seeds = Array.from({ length: 20 }, (_, at) => at + 1);
  it.each(
    seeds.flatMap((seed) => [
      { seed, ties: "efron" as const },
      { seed, ties: "breslow" as const },
    ]),
  )("set $seed, $ties: the same value, a top, its curvature", ({ seed, ties }) => {
    const model = drawnModel(seed, ties);
    const fit = fitted(model);
    const at = (a: number, b: number) => partialLogLikelihood(model, Float64Array.of(a, b));
    const [a, b] = [fit.coefficients[0]!, fit.coefficients[1]!];
    expectAgreement(fit.logLikelihood, at(a, b), { rel: 1e-12 });
    expectAgreement(fit.logLikelihoodAtZero, at(0, 0), { rel: 1e-12 });
    const h = 1e-3;
    const top = at(a, b);
    for (const [da, db] of [
      [h, 0],
      [-h, 0],
      [0, h],
      [0, -h],
      [h, h],
      [h, -h],
    ] as const)
      expect(at(a + da, b + db)).toBeLessThan(top);
    const second = (da: number, db: number) => (2 * top - at(a + da, b + db) - at(a - da, b - db)) / h ** 2;
    const [aa, bb, both] = [second(h, 0), second(0, h), second(h, h)];
    const ab = (both - aa - bb) / 2;
    const determinant = aa * bb - ab * ab;
    expectAgreement(fit.covariance[0]![0], bb / determinant, { rel: 1e-4 });
    expectAgreement(fit.covariance[1]![1], aa / determinant, { rel: 1e-4 });
    expectAgreement(fit.covariance[0]![1], -ab / determinant, { abs: (1e-4 * Math.sqrt(aa * bb)) / determinant });
  });
});

function expectAlike(found: ConvergedHazards, expected: ConvergedHazards, rel = 1e-9): void {
  for (const one of expected.coefficients.keys()) {
    expectAgreement(found.coefficients[one], expected.coefficients[one]!, { rel, abs: 1e-12 }, "coefficient");
    expectAgreement(found.covariance[one]![one], expected.covariance[one]![one]!, { rel }, "variance");
  }
  expectAgreement(found.logLikelihood, expected.logLikelihood, { rel: 1e-11 });
}

describe("fitProportionalHazards does not depend on", () => {
  const lung = lungModel(["age", "sex", "ph_ecog"]);
  const transformed = (model: HazardModel, of: (age: number) => number): HazardModel => {
    const { time, entry, failed } = model.lives;
    return { ...model, lives: { failed, time: time.map(of), ...(entry && { entry: entry.map(of) }) } };
  };
  it.each([
    ["a logarithm of age", lung, (age: number) => Math.log1p(age)],
    ["the unit of age", lung, (age: number) => age * Math.PI * 1e-6],
    ["a power of age", heartModel, (age: number) => (age / 7) ** 3],
    ["tenths of an hour", heartModel, (age: number) => Math.round(age * 10) / 100],
  ])("%s", (_, model, of) => {
    expectAlike(fitted(transformed(model, of)), fitted(model));
  });

  it.each([
    { shift: 1e9, scale: 1, rel: 1e-5, why: "9 of 16 digits are gone" },
    { shift: 0, scale: 1e-6, rel: 1e-9, why: "" },
    { shift: -3, scale: 1e9, rel: 1e-9, why: "" },
    { shift: 1e6, scale: 1e-3, rel: 1e-5, why: "9 of 16 digits are gone" },
  ])("where a covariate begins ($shift) and its unit ($scale) $why", ({ shift, scale, rel }) => {
    const moved = lung.covariates.map(({ name, values }) => ({ name, values: values.map((x) => shift + scale * x) }));
    const found = fitted({ ...lung, covariates: moved });
    const expected = fitted(lung);
    for (const one of expected.coefficients.keys()) {
      expectAgreement(found.coefficients[one]! * scale, expected.coefficients[one]!, { rel });
      expectAgreement(found.covariance[one]![one]! * scale ** 2, expected.covariance[one]![one]!, { rel });
    }
    expectAgreement(found.logLikelihood, expected.logLikelihood, { rel: 1e-9 });
  });

  it("the order of lives", () => {
    const back = (column: Float64Array) => column.toReversed();
    const { time, failed, entry } = heartModel.lives;
    expectAlike(
      fitted({
        lives: { time: back(time), failed: failed.toReversed(), entry: back(entry!) },
        covariates: heartModel.covariates.map(({ name, values }) => ({ name, values: back(values) })),
      }),
      fitted(heartModel),
    );
  });

  it("the numbers of strata, however large", () => {
    const model = lungModel(["age", "ph_ecog"], ["sex"]);
    const [sex] = model.further;
    const far = sex!.map((one) => (one === 1 ? 2_147_483_647 : 5));
    expectAlike(fitted({ ...model, stratum: far }), fitted({ ...model, stratum: sex! }));
  });

  it("entry at 0 being said", () => {
    const entry = new Float64Array(lung.lives.time.length);
    expect(fitted({ ...lung, lives: { ...lung.lives, entry } })).toEqual(fitted(lung));
  });

  it("lives that end before the first failure, or are never at risk at one, or of no weight", () => {
    const { lives, covariates } = sixLives;
    const wide: HazardModel = {
      lives: {
        time: Float64Array.of(...lives.time, 0.5, 8.5, 6),
        failed: Uint8Array.of(...lives.failed, 0, 0, 1),
        entry: Float64Array.of(0, 0, 0, 0, 0, 0, 0, 7, 0),
      },
      covariates: [{ name: "x", values: Float64Array.of(...covariates[0]!.values, 50, -70, 1e6) }],
      weight: Float64Array.of(1, 1, 1, 1, 1, 1, 1, 1, 0),
    };
    expectAlike(fitted(wide), fitted(sixLives), 1e-7);
  });
});

describe("a count", () => {
  const repeated = (model: HazardModel, count: Float64Array): HazardModel => {
    const rows = Array.from(count.keys()).flatMap((row) => Array<number>(count[row]!).fill(row));
    const { time, failed } = model.lives;
    return {
      lives: {
        time: Float64Array.from(rows, (row) => time[row]!),
        failed: Uint8Array.from(rows, (row) => failed[row]!),
      },
      covariates: model.covariates.map(({ name, values }) => ({
        name,
        values: Float64Array.from(rows, (row) => values[row]!),
      })),
      ...(model.ties && { ties: model.ties }),
    };
  };
  const row = fc.record({
    time: fc.integer({ min: 1, max: 6 }),
    failed: fc.integer({ min: 0, max: 1 }),
    x: fc.integer({ min: 0, max: 4 }),
    count: fc.integer({ min: 0, max: 3 }),
  });

  it.each(["efron", "breslow"] as const)("is so many lives alike (%s)", (ties) => {
    let compared = 0;
    fc.assert(
      fc.property(fc.array(row, { minLength: 4, maxLength: 25 }), (rows) => {
        const model: HazardModel = {
          lives: {
            time: Float64Array.from(rows, ({ time }) => time),
            failed: Uint8Array.from(rows, ({ failed }) => failed),
          },
          covariates: [{ name: "x", values: Float64Array.from(rows, ({ x }) => x) }],
          ties,
        };
        const count = Float64Array.from(rows, (one) => one.count);
        const found = fitProportionalHazards({ ...model.lives, count }, model.covariates, { ties });
        const { lives, covariates } = repeated(model, count);
        const expected = fitProportionalHazards(lives, covariates, { ties });
        expect(found.converged).toBe(expected.converged);
        if (!found.converged || !expected.converged) {
          expect(found).toEqual(expected);
          return;
        }
        compared++;
        expectAlike(found, expected, 1e-7);
        expect(found.failures).toBe(expected.failures);
      }),
      { numRuns: 300, seed: 20261126 },
    );
    expect(compared).toBeGreaterThan(150);
  });

  it("is a weight by Breslow's way, and another thing by Efron's, where a weight is one failure", () => {
    const { weight, ...model } = nineLives;
    const counted = { ...model.lives, count: weight! };
    const breslow = { ties: "breslow" } as const;
    expectAlike(fitted({ ...model, ...breslow, lives: counted }), fitted({ ...nineLives, ...breslow }));
    // R: coxph(Surv(time, status) ~ x) on the rows of test data 3 repeated by their weight
    expectAgreement(fitted({ ...model, lives: counted }).coefficients[0], 0.939787493555, { rel: 1e-9 });
  });
});

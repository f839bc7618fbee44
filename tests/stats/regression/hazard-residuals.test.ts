import { describe, expect, it } from "vitest";
import { hazardResiduals } from "../../../src/stats/regression/hazard-residuals.ts";
import type { ConvergedHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { schoenfeldResiduals } from "../../../src/stats/regression/schoenfeld-residuals.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heartModel, lungModel, sixLives, tenLives } from "./hazard-cases.ts";

const breslow = { ties: "breslow" } as const;
const sizes = (columns: Float64Array[]) =>
  columns.map((column) => column.reduce((sum, value) => sum + Math.abs(value), 0));
const squares = (column: Float64Array) => column.reduce((sum, value) => sum + value * value, 0);

function expectNumbers(found: ArrayLike<number>, expected: number[], rel = 1e-9): void {
  expect(found.length).toBe(expected.length);
  for (const [at, value] of expected.entries()) expectAgreement(found[at], value, { rel, abs: 1e-12 });
}

describe("hazardResiduals", () => {
  const atZero = (fit: ConvergedHazards): ConvergedHazards => ({ ...fit, coefficients: Float64Array.of(0) });
  it.each([
    { name: "Breslow", model: { ...sixLives, ...breslow }, expected: [5 / 6, -1 / 6, 1 / 3, 1 / 3, -2 / 3, -2 / 3] },
    { name: "Efron", model: sixLives, expected: [5 / 6, -1 / 6, 5 / 12, 5 / 12, -3 / 4, -3 / 4] },
  ])("martingale residuals at 0 of W-CX1, $name", ({ model, expected }) => {
    expectNumbers(hazardResiduals(model, atZero(fitted(model))).martingale, expected, 1e-12);
  });

  // R 4.2.2, survival 3.5-3, eps = 1e-14: residuals(coxph(Surv(start, stop, event) ~ age + year + surgery + transplant, heart), type = ...)
  it("agree with R under late entry and Efron's ties", () => {
    const { martingale, score, dfbeta } = hazardResiduals(heartModel, fitted(heartModel));
    expectNumbers(
      [0, 29, 99].map((life) => martingale[life]!),
      [0.566661570647, 0.9343698476087, 0.5955667069572],
    );
    expectAgreement(squares(martingale), 73.48144958613, { rel: 1e-10 });
    expectNumbers(
      score.map((column) => column[29]!),
      [7.06520329990656, -1.43527280427287, -0.07890043823745, 0.51662813721678],
    );
    expectNumbers(
      score.map((column) => column[99]!),
      [-4.6315351418978, 0.5308038561755, -0.07316678953033, -0.56650318365223],
    );
    expectNumbers(sizes(score), [626.39934337883, 143.52004392116, 19.09123898766, 27.3261421148]);
    expectNumbers(
      dfbeta.map((column) => column[29]!),
      [0.0006816217247493, -0.0055633394479367, -0.0054534661875213, 0.0432852682248239],
    );
  });

  // the same of coxph(Surv(time, status - 1) ~ age + ph.ecog + strata(sex), lung, weights = 1 + (row %% 3) / 2), rows without ph.ecog left out
  it("agree with R by strata and with weights, which dfbeta counts", () => {
    const model = lungModel(["age", "ph_ecog"], ["sex"]);
    const [sex] = model.further;
    const weighted = { ...model, stratum: sex!, weight: Float64Array.from(sex!, (_, row) => 1 + ((row + 1) % 3) / 2) };
    const { martingale, score, dfbeta } = hazardResiduals(weighted, fitted(weighted));
    expectAgreement(squares(martingale), 181.4777736252, { rel: 1e-10 });
    expectNumbers(sizes(score), [1116.72907430089, 84.27909417093]);
    expectNumbers(sizes(dfbeta), [0.0907362237142, 1.0754011082807]);
  });

  // the same of coxph(Surv(time, status - 1) ~ age + sex + ph.ecog, lung, ties = "breslow")
  it("agree with R by Breslow's way", () => {
    const model = { ...lungModel(["age", "sex", "ph_ecog"]), ...breslow };
    const { martingale, score } = hazardResiduals(model, fitted(model));
    expectAgreement(squares(martingale), 176.3019991933, { rel: 1e-10 });
    expectNumbers(sizes(score), [1081.09260942462, 66.69092848468, 83.38234222986]);
  });

  it.each([
    ["Efron", heartModel],
    ["Breslow", { ...heartModel, ...breslow }],
    ["W-CX2", tenLives],
  ])("sum to 0 at the fit, as the likelihood's slope does (%s)", (_, model) => {
    const { martingale, score } = hazardResiduals(model, fitted(model));
    for (const column of [martingale, ...score]) {
      const size = column.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      expectAgreement(
        column.reduce((sum, value) => sum + value, 0),
        0,
        { abs: 1e-9 * size },
      );
    }
  });

  it("dfbeta is near the change without the life, by a refit", () => {
    const model = lungModel(["age", "sex", "ph_ecog"]);
    const fit = fitted(model);
    const { dfbeta } = hazardResiduals(model, fit);
    const weight = new Float64Array(model.lives.time.length).fill(1);
    for (const life of [0, 17, 100]) {
      const rest = fitted({ ...model, weight: weight.with(life, 0) });
      for (const one of [0, 1, 2]) {
        const change = fit.coefficients[one]! - rest.coefficients[one]!;
        expectAgreement(dfbeta[one]![life], change, { abs: 0.01 * Math.sqrt(fit.covariance[one]![one]!) });
      }
    }
  });

  it("are those of one of the lives that a count stands for, and 0 where it is 0", () => {
    const { lives, covariates } = sixLives;
    const twice = { lives: { ...lives, count: Float64Array.of(1, 1, 2, 1, 0, 1) }, covariates };
    const apart = {
      lives: { time: Float64Array.of(1, 1, 6, 6, 6, 9), failed: Uint8Array.of(1, 0, 1, 1, 1, 1) },
      covariates: [{ name: "x", values: Float64Array.of(1, 1, 1, 1, 0, 0) }],
    };
    const { martingale } = hazardResiduals(twice, fitted(twice));
    const expected = hazardResiduals(apart, fitted(apart)).martingale;
    expectNumbers(martingale, [expected[0]!, expected[1]!, expected[2]!, expected[4]!, 0, expected[5]!], 1e-7);
  });
});

describe("schoenfeldResiduals", () => {
  // R 4.2.2, survival 3.5-3: residuals(fit, "schoenfeld"), cox.zph(fit, "identity")$y
  it("agree with R under late entry, raw and scaled", () => {
    const found = schoenfeldResiduals(heartModel, fitted(heartModel));
    expectNumbers(found.time.subarray(0, 5), [1, 2, 2, 2, 3]);
    expectNumbers(
      found.residual.map((column) => column[0]!),
      [6.037726692753, -1.76416411989823, 0.92114490787303, 0],
    );
    expectNumbers(sizes(found.residual), [518.17746570843, 113.69940306022, 15.0643390844, 22.48315719165]);
    expectNumbers(
      found.scaled.map((column) => column[0]!),
      [0.093400042877436, -1.11936075758532, 9.3479278790566, -0.80126955279253],
    );
    expectNumbers(sizes(found.scaled), [7.868176318315, 41.890602086196, 181.147927053332, 155.647143940312]);
    expect(found.life.every((life) => heartModel.lives.failed[life] === 1)).toBe(true);
  });
});

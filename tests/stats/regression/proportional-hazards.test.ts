import { describe, expect, it } from "vitest";
import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import type { ConvergedHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { expectAgreement, type Tolerance } from "../../agree.ts";
import type { PublishedCase } from "../../published-case.ts";
import {
  capacitor,
  capacitorModel,
  fitted,
  heart,
  heartModel,
  lung,
  lungModel,
  mgus,
  mgusModel,
  nineLives,
  sixLives,
  tenLives,
} from "./hazard-cases.ts";

const breslow = { ties: "breslow" } as const;

describe("fitProportionalHazards agrees with coxph() of R's survival", () => {
  const lungOfThree = lungModel(["age", "sex", "ph_ecog"]);
  const lungByUnit = lungModel(["age", "sex", "ph_ecog"], ["inst"]);
  const lungOfTwo = lungModel(["age", "ph_ecog"], ["sex"]);
  const cases: { of: PublishedCase; prefix: string; model: HazardModel }[] = [
    { of: capacitor, prefix: "cox_efron", model: capacitorModel },
    { of: capacitor, prefix: "cox_breslow", model: { ...capacitorModel, ...breslow } },
    { of: lung, prefix: "cox", model: lungOfThree },
    { of: lung, prefix: "cox_breslow", model: { ...lungOfThree, ...breslow } },
    { of: lung, prefix: "cox_stratified", model: { ...lungOfTwo, stratum: lungOfTwo.further[0]! } },
    { of: lung, prefix: "cox_cluster", model: lungByUnit },
    { of: heart, prefix: "cox_efron", model: heartModel },
    { of: heart, prefix: "cox_breslow", model: { ...heartModel, ...breslow } },
    { of: mgus, prefix: "cause_cox_pcm", model: mgusModel(1) },
    { of: mgus, prefix: "cause_cox_death", model: mgusModel(2) },
  ];
  const figures = cases.flatMap(({ of, prefix, model }) =>
    of
      .values(`${prefix}.`)
      .filter(({ rest }) => !/robust|concordance|pairs/.test(rest))
      .map(({ rest, value, tolerance }) => ({ case: of.name, prefix, figure: rest, value, tolerance, model })),
  );
  const fits = new Map(cases.map(({ model }) => [model, fitted(model)]));

  it.each(figures)("$case $prefix.$figure: $value", ({ model, figure, value, tolerance }) => {
    expectAgreement(figureOf(fits.get(model)!, model, figure), Number(value), tolerance, figure);
  });

  // of each fit 8 figures and 2 of each covariate: 2 x 12, 14, 14, 12, 14, 2 x 16, 2 x 12
  it("in so many figures", () => expect(figures.length).toBe(134));
});

function figureOf(fit: ConvergedHazards, { lives }: HazardModel, figure: string): number {
  const [kind = "", name = ""] = figure.split(".");
  const at = fit.names.indexOf(name);
  const figures: Record<string, () => number> = {
    n: () => lives.time.length,
    events: () => fit.failures,
    coef: () => fit.coefficients[at]!,
    se: () => Math.sqrt(fit.covariance[at]![at]!),
    loglik: () => fit.logLikelihood,
    loglik_null: () => fit.logLikelihoodAtZero,
    lr_chisq: () => fit.likelihoodRatio.statistic,
    lr_p: () => fit.likelihoodRatio.p,
    score_chisq: () => fit.score.statistic,
    wald_chisq: () => fit.wald.statistic,
  };
  const found = figures[kind];
  if (found === undefined) throw new Error(`no figure "${kind}"`);
  return found();
}

describe("fitProportionalHazards agrees with worked examples (Therneau & Grambsch, Modeling Survival Data, appendix E)", () => {
  const coefficient = ({ coefficients }: ConvergedHazards) => coefficients[0]!;
  const information = ({ covariance }: ConvergedHazards) => 1 / covariance[0]![0]!;
  const atZero = ({ logLikelihoodAtZero }: ConvergedHazards) => logLikelihoodAtZero;
  const atFit = ({ logLikelihood }: ConvergedHazards) => logLikelihood;
  const score = ({ score: { statistic } }: ConvergedHazards) => statistic;
  type Row = [what: string, model: HazardModel, of: (fit: ConvergedHazards) => number, expected: number, Tolerance];
  const six = { abs: 1e-6 };
  const five = { abs: 1e-5 };
  it.each<Row>([
    ["W-CX1, Breslow: log((3 + sqrt 33) / 2)", { ...sixLives, ...breslow }, coefficient, 1.475285, six],
    ["W-CX1, Breslow: at 0", { ...sixLives, ...breslow }, atZero, -4.564348, six],
    ["W-CX1, Breslow: at the fit", { ...sixLives, ...breslow }, atFit, -3.82475, six],
    ["W-CX1, Breslow: information", { ...sixLives, ...breslow }, information, 0.634168, six],
    ["W-CX1, Breslow: score 1 squared over information 5/8", { ...sixLives, ...breslow }, score, 8 / 5, { rel: 1e-12 }],
    ["W-CX1, Efron", sixLives, coefficient, 1.676857, six],
    ["W-CX1, Efron: at 0", sixLives, atZero, -4.276666, six],
    [
      "W-CX1, Efron: at the fit, the printed -3.358979 corrected (R: coxph)",
      sixLives,
      atFit,
      -3.35897484,
      { abs: 1e-8 },
    ],
    ["W-CX1, Efron: information, the printed 0.652077 corrected", sixLives, information, 0.612632, six],
    ["W-CX1, Efron: (52/48)^2 / (83/144)", sixLives, score, (52 / 48) ** 2 / (83 / 144), { rel: 1e-12 }],
    ["W-CX2, Breslow: log 0.9189477", { ...tenLives, ...breslow }, coefficient, Math.log(0.9189477), six],
    ["W-CX2, Breslow: at 0", { ...tenLives, ...breslow }, atZero, -9.392662, six],
    ["W-CX2, Breslow: at the fit", { ...tenLives, ...breslow }, atFit, -9.387015, six],
    [
      "W-CX2, Breslow: (2/15)^2 / (2821/1800)",
      { ...tenLives, ...breslow },
      score,
      (2 / 15) ** 2 / (2821 / 1800),
      { rel: 1e-12 },
    ],
    ["W-CX2, Efron (R: coxph, recomputed)", tenLives, coefficient, -0.021105, six],
    ["W-CX3, Breslow", { ...nineLives, ...breslow }, coefficient, 0.859557, five],
    ["W-CX3, Breslow: at 0", { ...nineLives, ...breslow }, atZero, -32.867551, five],
    ["W-CX3, Breslow: at the fit", { ...nineLives, ...breslow }, atFit, -32.021046, five],
    ["W-CX3, Efron", nineLives, coefficient, 0.872604, five],
    ["W-CX3, Efron: at 0", nineLives, atZero, -30.29218, five],
    ["W-CX3, Efron: at the fit", nineLives, atFit, -29.41678, five],
    ["W-CX3, Efron: 2.148183^2 / 2.929182", nineLives, score, 2.148183 ** 2 / 2.929182, five],
    ["W-CX3, Efron: information", nineLives, information, 1.969447, five],
  ])("%s", (_, model, of, expected, tolerance) => {
    expectAgreement(of(fitted(model)), expected, tolerance);
  });
});

describe("fitProportionalHazards with offsets and with weights in strata", () => {
  // R 4.2.2, survival 3.5-3, eps = 1e-14: lung without missing ph.ecog; coxph(Surv(time, status - 1) ~ age + ph.ecog + offset(sex / 3))
  const model = lungModel(["age", "ph_ecog"], ["sex"]);
  const [sex] = model.further;
  const offset = Float64Array.from(sex!, (value) => value / 3);
  it("agrees with R on an offset, wherever that begins", () => {
    for (const shift of [0, 500]) {
      const fit = fitted({ ...model, offset: offset.map((value) => value + shift) });
      expectAgreement(fit.coefficients[0], 0.01154980440204, { rel: 1e-10 });
      expectAgreement(fit.coefficients[1], 0.4298183400421, { rel: 1e-10 });
      expectAgreement(fit.logLikelihood, -744.2443296158, { rel: 1e-10 });
      expectAgreement(fit.logLikelihoodAtZero, -753.4220634208, { rel: 1e-10 });
      expectAgreement(Math.sqrt(fit.covariance[0]![0]!), 0.009375909602449, { rel: 1e-10 });
      expectAgreement(Math.sqrt(fit.covariance[1]![1]!), 0.1175834622083, { rel: 1e-10 });
    }
  });

  it("agrees with R on weights 1.5, 2, 1, 1.5, ... by sex: coxph(~ age + ph.ecog + strata(sex), weights = 1 + (row %% 3) / 2)", () => {
    const weight = Float64Array.from(sex!, (_, row) => 1 + ((row + 1) % 3) / 2);
    const fit = fitted({ ...model, stratum: sex!, weight });
    expectAgreement(fit.coefficients[0], 0.01170477088547, { rel: 1e-10 });
    expectAgreement(fit.coefficients[1], 0.4708346142069, { rel: 1e-10 });
    expectAgreement(fit.logLikelihoodAtZero, -1066.67291759, { rel: 1e-10 });
    expectAgreement(fit.logLikelihood, -1051.196794642, { rel: 1e-10 });
    expectAgreement(fit.covariance[0]![0], 5.729960082827e-5, { rel: 1e-10 });
    expectAgreement(fit.covariance[0]![1], -1.029531613401e-4, { rel: 1e-10 });
    expectAgreement(fit.covariance[1]![1], 8.619078883645e-3, { rel: 1e-10 });
  });
});

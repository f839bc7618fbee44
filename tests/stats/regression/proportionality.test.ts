import { describe, expect, it } from "vitest";
import { proportionality } from "../../../src/stats/regression/proportionality.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heartModel, lung, lungModel, sixLives } from "./hazard-cases.ts";

const scales = ["km", "identity", "rank"] as const;

describe("proportionality agrees with cox.zph() of R's survival", () => {
  const model = lungModel(["age", "sex", "ph_ecog"]);
  const fit = fitted(model);
  const figures = scales.flatMap((scale) => lung.values(`zph_${scale}.`).map((figure) => ({ scale, ...figure })));

  it.each(figures)("$name: $value", ({ scale, rest, value, tolerance }) => {
    const [name = "", figure = ""] = rest.split(".");
    const { covariates, global } = proportionality(model, fit, scale);
    const test = name === "GLOBAL" ? global : covariates.find((one) => one.name === name)?.test;
    expectAgreement(figure === "p" ? test?.p : test?.statistic, Number(value), tolerance);
    expect(test?.degrees).toBe(name === "GLOBAL" ? 3 : 1);
  });

  // 3 scales, 3 covariates and all, statistic and p
  it("in so many figures", () => expect(figures.length).toBe(24));

  // R 4.2.2, survival 3.5-3: cox.zph(coxph(Surv(start, stop, event) ~ age + year + surgery + transplant, heart))
  it.each([
    {
      scale: "km",
      expected: [0.86687471091555, 1.7164144292082, 0.097395059116863, 0.20293438815238, 3.47310229884577],
    },
    {
      scale: "identity",
      expected: [1.75729093008017, 1.51220047556485, 1.37611056122532, 0.12202930162011, 4.68794841096408],
    },
    {
      scale: "rank",
      expected: [0.83071609612676, 1.05186779335822, 0.0038478590657458, 0.25243848363117, 2.68432681071624],
    },
  ] as const)("under late entry, $scale", ({ scale, expected }) => {
    const { covariates, global } = proportionality(heartModel, fitted(heartModel), scale);
    const statistics = [...covariates, { test: global }].map(({ test }) => test?.statistic);
    for (const [at, value] of expected.entries()) expectAgreement(statistics[at], value, { rel: 1e-9 });
  });

  // the same of lung, ~ age + ph.ecog + strata(sex) with weights 1 + (row %% 3) / 2, and of ~ age + sex + ph.ecog by ties = "breslow"
  it("by strata and with weights, and by Breslow's way", () => {
    const two = lungModel(["age", "ph_ecog"], ["sex"]);
    const stratum = two.further[0]!;
    const weighted = { ...two, stratum, weight: Float64Array.from(stratum, (_, row) => 1 + ((row + 1) % 3) / 2) };
    const found = proportionality(weighted, fitted(weighted), "identity");
    expectAgreement(found.covariates[0]!.test?.statistic, 0.29525647641076, { rel: 1e-9 });
    expectAgreement(found.covariates[1]!.test?.statistic, 2.48241377055961, { rel: 1e-9 });
    expectAgreement(found.global?.statistic, 2.56080380987241, { rel: 1e-9 });
    const breslow = { ...model, ties: "breslow" } as const;
    expectAgreement(proportionality(breslow, fitted(breslow)).global?.statistic, 4.45101233320089, { rel: 1e-9 });
  });
});

describe("proportionality", () => {
  it.each(scales)("has no test where all failures are at one age (%s)", (scale) => {
    const model = {
      lives: { time: Float64Array.of(2, 2, 3, 3), failed: Uint8Array.of(1, 1, 0, 0) },
      covariates: [{ name: "x", values: Float64Array.of(1, 3, 2, 0) }],
    };
    const found = proportionality(model, fitted(model), scale);
    expect(found).toEqual({ covariates: [{ name: "x", test: null }], global: null });
  });

  it("counts the lives of a row as so many", () => {
    const { lives, covariates } = sixLives;
    const counted = { lives: { ...lives, count: Float64Array.of(2, 1, 1, 1, 1, 2) }, covariates };
    const repeated = {
      lives: { time: Float64Array.of(1, 1, 1, 6, 6, 8, 9, 9), failed: Uint8Array.of(1, 1, 0, 1, 1, 0, 1, 1) },
      covariates: [{ name: "x", values: Float64Array.of(1, 1, 1, 1, 0, 0, 0, 0) }],
    };
    for (const scale of scales) {
      const expected = proportionality(repeated, fitted(repeated), scale).global;
      expectAgreement(proportionality(counted, fitted(counted), scale).global?.statistic, expected!.statistic, {
        rel: 1e-7,
      });
    }
  });
});

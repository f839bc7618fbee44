import { describe, expect, it } from "vitest";
import { robustHazards } from "../../../src/stats/regression/robust-hazards.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heart, heartModel, lung, lungModel, sixLives } from "./hazard-cases.ts";

describe("robustHazards", () => {
  const model = lungModel(["age", "sex", "ph_ecog"], ["inst"]);
  const fit = fitted(model);
  const robust = robustHazards(model, fit, model.further[0]!);

  it.each(["age", "sex", "ph_ecog"])("gives the published robust error of %s", (name) => {
    const { value, tolerance } = lung.value(`cox_cluster.robust_se.${name}`);
    const at = fit.names.indexOf(name);
    expectAgreement(Math.sqrt(robust.covariance[at]![at]!), value, tolerance);
  });

  it("gives the published robust Wald test", () => {
    const { value, tolerance } = lung.value("cox_cluster.wald_robust_chisq");
    expectAgreement(robust.wald?.statistic, value, tolerance);
    expect(robust.wald?.degrees).toBe(3);
  });

  // R 4.2.2, survival 3.5-3, eps = 1e-14: coxph(..., cluster = inst)$rscore; for heart, cluster = id, also diag($var)
  it("gives R's robust score test, with late entry too", () => {
    expectAgreement(robust.score?.statistic, 7.268625221403, { rel: 1e-9 });
    const found = robustHazards(heartModel, fitted(heartModel), Int32Array.from(heart.numbers("id")));
    expectAgreement(found.score?.statistic, 18.2363014168, { rel: 1e-9 });
    for (const [at, value] of [
      0.0001929846890141, 0.0053406658264452, 0.1283145490924063, 0.100414423147361,
    ].entries()) {
      expectAgreement(found.covariance[at]![at], value, { rel: 1e-9 });
    }
  });

  // R: diag(coxph(Surv(time, status - 1) ~ age + ph.ecog + strata(sex), lung, weights = 1 + (row %% 3) / 2)$var)
  it("counts weights as R does, each life by itself", () => {
    const two = lungModel(["age", "ph_ecog"], ["sex"]);
    const stratum = two.further[0]!;
    const weighted = { ...two, stratum, weight: Float64Array.from(stratum, (_, row) => 1 + ((row + 1) % 3) / 2) };
    const { covariance } = robustHazards(weighted, fitted(weighted), Int32Array.from(stratum.keys()));
    expectAgreement(covariance[0]![0], 8.78865624724889e-5, { rel: 1e-9 });
    expectAgreement(covariance[1]![1], 1.538674005398e-2, { rel: 1e-9 });
  });

  it("has no test by clusters fewer than covariates, and refuses clusters of other lives", () => {
    const two = robustHazards(
      model,
      fit,
      model.further[0]!.map((unit) => unit % 2),
    );
    expect(two.wald).toBe(null);
    expect(() => robustHazards(sixLives, fitted(sixLives), Int32Array.of(1))).toThrow("1 clusters for 6 lives");
  });
});

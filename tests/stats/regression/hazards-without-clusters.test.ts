import { describe, expect, it } from "vitest";
import type { ClusterRefits } from "../../../src/stats/regression/cluster-refits.ts";
import { hazardsWithoutClusters } from "../../../src/stats/regression/hazards-without-clusters.ts";
import { jackknifeContrast } from "../../../src/stats/regression/jackknife-contrast.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heart, heartModel, lungModel, sixLives } from "./hazard-cases.ts";

function refits(found: ReturnType<typeof hazardsWithoutClusters>): ClusterRefits {
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

describe("hazardsWithoutClusters", () => {
  // R 4.2.2, survival 3.5-3, eps = 1e-14: coef(coxph(Surv(time, status - 1) ~ age + sex + ph.ecog, lung[lung$inst != i, ])), i = 3, 5, 1
  it("agrees with R's fits of the lung data without each of the first three institutions", () => {
    const model = lungModel(["age", "sex", "ph_ecog"], ["inst"]);
    const fit = fitted(model);
    const { full, without } = refits(hazardsWithoutClusters(model, fit, model.further[0]!, 1));
    expect(without.length).toBe(18);
    expect(full).toEqual(fit.coefficients);
    const expected = [
      [0.008370881573401, -0.583781339663651, 0.459584426597587],
      [0.01114201786216, -0.5194190849918, 0.45661317925037],
      [0.008025692074146, -0.519144441647765, 0.41299164307695],
    ];
    for (const [group, numbers] of expected.entries()) {
      for (const [one, value] of numbers.entries()) expectAgreement(without[group]![one], value, { rel: 1e-9 });
    }
    expect(jackknifeContrast({ full, without }, [0, 0, 1], 0.95).error).toBeGreaterThan(0);
  });

  // R: coef(coxph(Surv(start, stop, event) ~ age + year + surgery + transplant, heart[heart$id != i, ])), i = 3, 50
  it.each([
    { patient: 3, expected: [0.02696158191948, -0.13844195898483, -0.63673854639274, -0.05551586813799] },
    { patient: 50, expected: [0.02688147072107, -0.15157541943523, -0.63374410032925, -0.03028939722671] },
  ])("agrees with R's fit of the heart data without patient $patient", ({ patient, expected }) => {
    const id = heart.numbers("id");
    const { without } = refits(hazardsWithoutClusters(heartModel, fitted(heartModel), Int32Array.from(id), 1));
    const at = [...new Set(id)].indexOf(patient);
    for (const [one, value] of expected.entries()) expectAgreement(without[at]![one], value, { rel: 1e-9 });
  });

  it.each(["efron", "breslow"] as const)(
    "is the fit with the cluster's weights 0, with strata and counts (%s)",
    (ties) => {
      const two = lungModel(["age", "ph_ecog"], ["sex", "inst"]);
      const [stratum, cluster] = [two.further[0]!, two.further[1]!];
      const weight = Float64Array.from(stratum, (_, row) => 0.1 * (1 + (row % 7)));
      const count = Float64Array.from(stratum, (_, row) => 1 + (row % 3));
      const model = { ...two, lives: { ...two.lives, count }, stratum, weight, ties };
      const { without } = refits(hazardsWithoutClusters(model, fitted(model), cluster, 1));
      for (const [at, own] of [...new Set(cluster)].entries()) {
        const rest = fitted({ ...model, weight: weight.map((value, life) => (cluster[life] === own ? 0 : value)) });
        for (const one of [0, 1]) expectAgreement(without[at]![one], rest.coefficients[one]!, { rel: 1e-8 });
      }
    },
  );

  it("says why not", () => {
    const whole = fitted(sixLives);
    const of = (...cluster: number[]) => hazardsWithoutClusters(sixLives, whole, Int32Array.from(cluster), 1);
    expect(of(1, 1, 1, 1, 1, 1)).toEqual({ reason: "all lives are of one unit" });
    expect(of(1, 1, 1, 1, 2, 3)).toEqual({ reason: "without one unit fewer than two failures are left" });
    expect(of(1, 1, 1, 2, 2, 2)).toEqual({ reason: "without one unit the lives left don't tell every coefficient" });
    expect(() => of(1)).toThrow("1 clusters for 6 lives");
  });
});

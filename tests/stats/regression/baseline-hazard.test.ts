import { describe, expect, it } from "vitest";
import { baselineHazard, type HazardCurve } from "../../../src/stats/regression/baseline-hazard.ts";
import type { HazardModel } from "../../../src/stats/regression/hazard-model.ts";
import type { ConvergedHazards } from "../../../src/stats/regression/proportional-hazards.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, heartModel, lung, lungModel, sixLives } from "./hazard-cases.ts";

function curves(model: HazardModel, fit: ConvergedHazards, ...at: number[]): HazardCurve[] {
  const found = baselineHazard(model, fit, Float64Array.from(at));
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

/** The step of a curve that holds at an age. */
function stepAt({ time, hazard, se }: HazardCurve, age: number): { hazard: number; se: number } {
  const at = time.findLastIndex((one) => one <= age);
  return { hazard: hazard[at]!, se: se[at]! };
}

describe("baselineHazard", () => {
  const breslow: HazardModel = { ...sixLives, ties: "breslow" };
  const atZero = (model: HazardModel, information: number): ConvergedHazards => ({
    ...fitted(model),
    coefficients: Float64Array.of(0),
    covariance: [[1 / information]],
  });
  it.each([
    {
      name: "Breslow at 0",
      model: breslow,
      fit: atZero(breslow, 5 / 8),
      variances: [7 / 180, 2 / 9, 11 / 9],
      within: 1e-12,
    },
    {
      name: "Efron at 0 (the last two corrected)",
      model: sixLives,
      fit: atZero(sixLives, 83 / 144),
      variances: [119 / 2988, 0.271754, 1.271754],
      within: 1e-6,
    },
    {
      name: "Breslow at the fit",
      model: breslow,
      fit: fitted(breslow),
      variances: [0.007871, 0.111111, 1.111111],
      within: 1e-6,
    },
    {
      name: "Efron at the fit",
      model: sixLives,
      fit: fitted(sixLives),
      variances: [0.005951, 0.134074, 1.134074],
      within: 1e-6,
    },
  ])("has the variances of W-CX1, $name", ({ model, fit, variances, within }) => {
    const [curve] = curves(model, fit, 0);
    expect([...curve!.time]).toEqual([1, 6, 9]);
    for (const [at, expected] of variances.entries()) expectAgreement(curve!.se[at]! ** 2, expected, { abs: within });
  });

  const model = lungModel(["age", "sex", "ph_ecog"]);
  const fit = fitted(model);
  it.each(lung.table("baseline_cumhaz_at_x0").rows)(
    "is as published at covariates of 0, day $time",
    ({ time, cumhaz }) => {
      const { tolerance } = lung.table("baseline_cumhaz_at_x0");
      expectAgreement(stepAt(curves(model, fit, 0, 0, 0)[0]!, time!).hazard, cumhaz!, tolerance);
    },
  );

  it.each(lung.table("predicted_survival_age60_male_ecog1").rows)(
    "gives the published survival of a man of 60, day $time",
    (row) => {
      const { tolerance } = lung.table("predicted_survival_age60_male_ecog1");
      const { hazard, se } = stepAt(curves(model, fit, 60, 1, 1)[0]!, row["time"]!);
      expectAgreement(Math.exp(-hazard), row["surv"]!, tolerance);
      expectAgreement(Math.exp(-hazard) * se, row["se"]!, tolerance);
    },
  );

  // R 4.2.2, survival 3.5-3: -log(surv) and std.err / surv of summary(survfit(fit, newdata), times)
  it.each([
    [30, 0.1326225868144, 0.06351634638667],
    [100, 0.3881793729487, 0.15384856473914],
    [500, 0.6478603285106, 0.23813710879848],
  ])("agrees with R under late entry, day %d", (time, hazard, se) => {
    const found = stepAt(curves(heartModel, fitted(heartModel), -5, 3, 1, 1)[0]!, time);
    expectAgreement(found.hazard, hazard, { rel: 1e-10 });
    expectAgreement(found.se, se, { rel: 1e-9 });
  });

  it("agrees with R by strata: lung, ~ age + ph.ecog + strata(sex), at 60 and 1", () => {
    const two = lungModel(["age", "ph_ecog"], ["sex"]);
    const stratified = { ...two, stratum: two.further[0]! };
    const found = curves(stratified, fitted(stratified), 60, 1);
    expect(found.map(({ stratum }) => stratum)).toEqual([1, 2]);
    const expected = [
      [100, 0.17238987238334, 0.03657839177175, 0.07637051979563, 0.02899387606286],
      [365, 1.08043459571692, 0.13484920846152, 0.61835223454132, 0.11116259011764],
    ] as const;
    for (const [time, ...numbers] of expected) {
      const steps = found.flatMap((curve) => Object.values(stepAt(curve, time)));
      for (const [at, value] of numbers.entries()) expectAgreement(steps[at], value, { rel: 1e-9 });
    }
  });

  it("is at an offset of 0, wherever those of the lives lie", () => {
    const offset = Float64Array.of(1, 0, 1, 1, 0, 2);
    const near = { ...sixLives, offset };
    const far = { ...sixLives, offset: offset.map((value) => value + 3) };
    const [one, other] = [curves(near, fitted(near), 1)[0]!, curves(far, fitted(far), 1)[0]!];
    for (const at of one.time.keys()) expectAgreement(other.hazard[at], one.hazard[at]! * Math.exp(-3), { rel: 1e-9 });
  });

  it("says when the covariates are too far off, and refuses what are none", () => {
    expect(baselineHazard(model, fit, Float64Array.of(1e9, 1, 1))).toEqual({
      reason: expect.stringContaining("too far"),
    });
    expect(() => baselineHazard(model, fit, Float64Array.of(60))).toThrow("found [60] for 3 covariates");
  });
});

import { describe, expect, it } from "vitest";
import type { ConvergedAcceleratedLife } from "../../../src/stats/regression/accelerated-life.ts";
import { fitAcceleratedLife } from "../../../src/stats/regression/accelerated-life.ts";
import { likelihoodRatioTest } from "../../../src/stats/regression/likelihood-ratio-test.ts";
import { predictedLife } from "../../../src/stats/regression/predicted-life.ts";
import { expectAgreement } from "../../agree.ts";
import { marked } from "../fit/fitted.ts";
import {
  capacitors,
  column,
  FAMILIES,
  fitted,
  lung,
  type Regressed,
  referenceLives,
  referenceRows,
  upper,
  visits,
} from "./regression-data.ts";

/** A figure of the published cases, by the name they give it. */
function figureOf(fit: ConvergedAcceleratedLife, name: string): number | null {
  const [kind = "", covariate = ""] = name.split(".");
  const place = fit.names.indexOf(covariate === "Intercept" ? "(intercept)" : covariate);
  const error = (at: number) => Math.sqrt(fit.covariance[at]![at]!);
  const figures: Record<string, () => number | null> = {
    coef: () => fit.coefficients[place]!,
    se: () => error(place),
    loghr: () => -fit.coefficients[place]! / fit.sigma,
    sigma: () => fit.sigma,
    se_log_sigma: () => error(fit.coefficients.length),
    loglik: () => fit.logLikelihood,
    loglik_null: () => fit.nullLogLikelihood,
    lr_chisq: () => 2 * (fit.logLikelihood - (fit.nullLogLikelihood ?? Number.NaN)),
  };
  const figure = figures[kind];
  if (figure === undefined) throw new RangeError(`no figure is known as "${name}"`);
  return figure();
}

describe("fitAcceleratedLife", () => {
  const scored = lung("age", "sex", "ph_ecog");
  const published = [
    { name: "capacitors", set: capacitors(), families: ["weibull", "lognormal", "exponential"] as const },
    { name: "lung", set: scored, families: ["weibull"] as const },
    { name: "visits", set: visits(), families: ["weibull", "lognormal", "log-logistic", "exponential"] as const },
  ].flatMap(({ name, set, families }) =>
    families.flatMap((family) =>
      set.case
        .values(`${family.replace("-", "")}_aft.`)
        .map(({ rest, value, tolerance }) => ({ name, set, family, figure: rest, value, tolerance })),
    ),
  );

  it("has the published figures to be held against", () => expect(published.length).toBe(84));

  it.each(published)("finds $figure of the published $name: $family", ({ set, family, figure, value, tolerance }) => {
    expect(typeof value).toBe("number");
    expectAgreement(figureOf(fitted(set, family), figure), value as number, tolerance);
  });

  it("finds the published lack of fit and interaction of the capacitors", () => {
    const { lives, covariates, case: published } = capacitors();
    const straight = fitted({ lives, covariates });
    const [temperature, voltage] = covariates.map(({ values }) => values);
    const level = (volts: number) =>
      column(
        `${volts} V`,
        voltage!.map((value) => (value === volts ? 1 : 0)),
      );
    const levels = fitted({ lives, covariates: [covariates[0]!, level(250), level(300), level(350)] });
    const product = column(
      "both",
      voltage!.map((value, row) => value * temperature![row]!),
    );
    const crossed = fitted({ lives, covariates: [...covariates, product] });
    const figures = {
      "weibull_aft_factor.loglik": levels.logLikelihood,
      lack_of_fit_chisq: likelihoodRatioTest(straight, levels).chiSquare,
      interaction_chisq: likelihoodRatioTest(straight, crossed).chiSquare,
    };
    for (const [name, figure] of Object.entries(figures)) {
      const { value, tolerance } = published.value(name);
      expectAgreement(figure, value, tolerance, name);
    }
  });

  it("finds the published L10 and L50 of capacitors at 170 degrees and 200 volts", () => {
    const set = capacitors();
    const life = (p: number) => predictedLife(fitted(set), { p, at: [170, 200], level: 0.95 });
    const error = life(0.1).estimate * life(0.1).logError;
    for (const [name, figure] of Object.entries({ L10: life(0.1).estimate, L50: life(0.5).estimate, L10_se: error })) {
      const { value, tolerance } = set.case.value(`predict_170C_200V.${name}`);
      expectAgreement(figure, value, tolerance, name);
    }
  });

  it("finds the published regression of the 42 remissions", () => {
    const treated = marked("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+");
    const control = marked("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23");
    const fit = fitted({
      lives: {
        time: Float64Array.of(...treated.time, ...control.time),
        failed: Uint8Array.of(...treated.failed, ...control.failed),
      },
      covariates: [column("control", [...treated.time.map(() => 0), ...control.time.map(() => 1)])],
    });
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, cens) ~ control, MASS::gehan, control = survreg.control(rel.tolerance = 1e-14)); Gehan 1965
    const figures: [string, number][] = [
      ["coef.Intercept", 3.515686946496],
      ["se.Intercept", 0.2517810197246],
      ["coef.control", -1.267334587419],
      ["se.control", 0.3106399359757],
      ["sigma", 0.732194404084],
      ["se_log_sigma", 0.1472918825776],
      ["loglik", -106.5794915816],
      ["loglik_null", -116.4054069796],
    ];
    for (const [name, value] of figures) expectAgreement(figureOf(fit, name), value, { rel: 1e-9 }, name);
    expectAgreement(figureOf(fit, "loghr.control"), 1.731, { abs: 5e-4 });
  });

  it.each(referenceRows().filter(({ what }) => what === "fit"))(
    "fits $set to 60 digits' figures: $family",
    ({ set, family, values }) => {
      const fit = fitted(referenceLives(set), family);
      const logSigma = family === "exponential" ? [] : [Math.log(fit.sigma)];
      const found = [...fit.coefficients, ...logSigma, fit.logLikelihood];
      expect(found.length).toBe(values.length);
      for (const [at, value] of values.entries()) expectAgreement(found[at], value, { rel: 1e-9 }, `figure ${at}`);
    },
  );

  it.each(referenceRows().filter(({ what }) => what === "covariance"))(
    "finds the covariance of $set to 60 digits' figures: $family",
    ({ set, family, values }) => {
      const found = upper(fitted(referenceLives(set), family).covariance);
      expect(found.length).toBe(values.length);
      // The curvature is that a last step, of at most 1e-9 standard errors, before the top.
      for (const [at, value] of values.entries()) expectAgreement(found[at], value, { rel: 1e-9 }, `figure ${at}`);
    },
  );

  it("takes exact and right-censored lives in either form", () => {
    const { lives, covariates } = capacitors();
    if (!("time" in lives)) throw new Error("the capacitors are known exactly or followed");
    const high = lives.time.map((time, row) => (lives.failed[row] === 1 ? time : Number.POSITIVE_INFINITY));
    expect(fitted({ lives: { low: lives.time, high }, covariates })).toEqual(fitted({ lives, covariates }));
  });

  it("is a plain fit without covariates", () => {
    const fit = fitted({ lives: capacitors().lives, covariates: [] }, "log-logistic");
    expectAgreement(fit.logLikelihood, fit.nullLogLikelihood!, { abs: 1e-10 });
    expect(fit.names).toEqual(["(intercept)"]);
  });

  it("finds the same in a large set as from its rows counted", () => {
    const { lives, covariates } = referenceLives("all");
    if (!("low" in lives)) throw new Error("the set is of intervals");
    const times = 6000;
    const repeat = (values: Float64Array) => {
      const found = new Float64Array(values.length * times);
      for (let at = 0; at < times; at++) found.set(values, at * values.length);
      return found;
    };
    const many: Regressed = {
      lives: {
        low: repeat(lives.low),
        high: repeat(lives.high),
        entry: repeat(lives.entry!),
        count: repeat(lives.count!),
      },
      covariates: covariates.map(({ name, values }) => ({ name, values: repeat(values) })),
    };
    expect(many.covariates[0]!.values.length).toBeGreaterThan(100_000);
    const [all, few] = [fitted(many), fitted({ lives, covariates })];
    for (const [at, value] of few.coefficients.entries()) expectAgreement(all.coefficients[at], value, { rel: 1e-10 });
    expectAgreement(all.logLikelihood, few.logLikelihood * times, { rel: 1e-10 });
  });

  it.each(FAMILIES)("is wrong to be called with columns that are none: %s", (family) => {
    const lives = { time: Float64Array.of(1, 2), failed: Uint8Array.of(1, 1) };
    expect(() => fitAcceleratedLife(lives, [column("x", [1])], family)).toThrow(RangeError);
    expect(() => fitAcceleratedLife(lives, [column("x", [1, Number.NaN])], family)).toThrow('covariate "x"');
    expect(() => fitAcceleratedLife({ ...lives, time: Float64Array.of(-1, 2) }, [], family)).toThrow(RangeError);
  });
});

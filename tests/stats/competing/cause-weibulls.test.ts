import { describe, expect, it } from "vitest";
import { causeIncidence } from "../../../src/stats/competing/cause-incidence.ts";
import type { CauseLives } from "../../../src/stats/competing/cause-lives.ts";
import { causeWeibulls } from "../../../src/stats/competing/cause-weibulls.ts";
import { causesTogether } from "../../../src/stats/competing/causes-together.ts";
import type { WeibullFit } from "../../../src/stats/weibull/fit.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const mgus = new PublishedCase("10_mgus2");
const events = mgus.numbers("event");
const lives: CauseLives = {
  time: mgus.numbers("etime"),
  failed: Uint8Array.from(events, (event) => (event > 0 ? 1 : 0)),
  cause: Int32Array.from(events, (event) => event - 1),
};

function weibull(shape: number, scale: number): WeibullFit {
  const none: [number, number] = [0, 0];
  return {
    converged: true,
    distribution: "weibull",
    shape,
    scale,
    logLikelihood: 0,
    covariance: [none, none],
    iterations: 0,
    failures: 2,
  };
}

describe("causeWeibulls", () => {
  it("agrees with survreg() of R's survival, other causes censored (Kyle et al. 2002)", () => {
    const fits = causeWeibulls(lives, 2);
    for (const [cause, name] of ["pcm", "death"].entries()) {
      const fit = fits[cause]!;
      if (!fit.converged) throw new RangeError(fit.reason);
      for (const [found, figure] of [
        [fit.shape, "shape"],
        [fit.scale, "scale"],
        [fit.logLikelihood, "loglik"],
        [Math.sqrt(fit.covariance[1][1]), "se_log_shape"],
        [Math.sqrt(fit.covariance[0][0]), "se_log_scale"],
      ] as const) {
        const { value, tolerance } = mgus.value(`cause_weibull_${name}.${figure}`);
        expectAgreement(found, value, tolerance, `${name} ${figure}`);
      }
    }
  });

  it("carries a cause that can't be fitted as refused, and refuses causes out of range", () => {
    const few: CauseLives = {
      time: Float64Array.of(3, 5, 8, 9),
      failed: Uint8Array.of(1, 1, 1, 0),
      cause: Int32Array.of(0, 0, 1, -1),
    };
    expect(causeWeibulls(few, 3)).toMatchObject([
      { converged: true, failures: 2 },
      { converged: false, reason: "there is only one failure; shape and scale need two" },
      { converged: false, reason: "there are no failures" },
    ]);
    expect(() => causeWeibulls(few, 1)).toThrow("its cause is 1, of 1");
    const together = causesTogether(few, causeWeibulls(few, 2));
    expect(together).toMatchObject({ difference: null, time: null, cause: 1 });
    expect(causeIncidence(causeWeibulls(few, 2), Float64Array.of(1))).toMatchObject({ incidence: null, cause: 1 });
  });
});

describe("causeIncidence", () => {
  it("agrees with integrate() of R on the fits to the data of Kyle et al. 2002", () => {
    const { rows, tolerance } = mgus.table("cif_from_cause_weibulls");
    const found = causeIncidence(
      causeWeibulls(lives, 2),
      Float64Array.from(rows, (row) => row["time"]!),
    );
    expect(rows.length).toBe(3);
    for (const [at, row] of rows.entries()) {
      expectAgreement(found.incidence?.[0]?.[at], row["cif_pcm"]!, tolerance);
      expectAgreement(found.incidence?.[1]?.[at], row["cif_death"]!, tolerance);
    }
  });

  // scipy 1.17: quad of the hazard of the cause times the survival of all from 0 to the age, age = T u^(3 / shape)
  const quad: [[number, number][], number, number, number][] = [
    [
      [
        [0.4, 50],
        [3, 1000],
      ],
      0,
      800,
      0.9403500529068562,
    ],
    [
      [
        [0.4, 50],
        [3, 1000],
      ],
      1,
      800,
      0.030736055836322072,
    ],
    [
      [
        [1.2, 805],
        [0.86, 155],
        [2.5, 300],
      ],
      2,
      240,
      0.14209222420980805,
    ],
    [
      [
        [0.7, 1e-6],
        [1.5, 2e-6],
      ],
      1,
      1e-6,
      0.1584785268774469,
    ],
  ];
  it.each(quad)("shapes and scales %j, cause %d, to %d: %d", (causes, cause, time, expected) => {
    const found = causeIncidence(
      causes.map(([shape, scale]) => weibull(shape, scale)),
      Float64Array.of(time),
    );
    expectAgreement(found.incidence?.[cause]?.[0], expected, { rel: 1e-9 });
  });

  it("shares failures by the scales where shapes are equal, for shapes of 0.05 to 1000 (closed form)", () => {
    for (const shape of [0.05, 1, 20, 1000]) {
      const fits = [weibull(shape, 9000), weibull(shape, 9000 * 3 ** (1 / shape))];
      const found = causeIncidence(fits, Float64Array.of(0, 9000, 9000 * 1000 ** (1 / shape)));
      const all = -Math.expm1(-(1 + 1 / 3));
      for (const [cause, share] of [0.75, 0.25].entries()) {
        expect(found.incidence?.[cause]?.[0]).toBe(0);
        expectAgreement(found.incidence?.[cause]?.[1], share * all, { rel: 1e-9 });
        expectAgreement(found.incidence?.[cause]?.[2], share, { rel: 1e-9 });
      }
    }
  });

  it("adds up to 1 less the product of survivals, however unlike the causes", () => {
    const fits = [weibull(0.3, 1e-3), weibull(50, 2), weibull(1, 1e6), weibull(400, 1.9)];
    const times = Float64Array.of(1e-9, 1e-3, 1, 1.9, 2, 5);
    const found = causeIncidence(fits, times);
    for (const [at, time] of times.entries()) {
      const product = fits.reduce((sum, fit) => (fit.converged ? sum + (time / fit.scale) ** fit.shape : sum), 0);
      const sum = found.incidence?.reduce((all, row) => all + row[at]!, 0);
      expectAgreement(sum, -Math.expm1(-product), { rel: 1e-9 });
    }
  });

  it("refuses an age below 0 or without end", () => {
    expect(() => causeIncidence([weibull(1, 1)], Float64Array.of(-1))).toThrow("found -1");
    expect(() => causeIncidence([weibull(1, 1)], Float64Array.of(Number.POSITIVE_INFINITY))).toThrow(RangeError);
  });
});

describe("causesTogether", () => {
  it("finds where the product is furthest from Kaplan-Meier, before or at a step (by hand: two failures, exponentials of scale 4)", () => {
    const two: CauseLives = {
      time: Float64Array.of(1, 2),
      failed: Uint8Array.of(1, 1),
      cause: Int32Array.of(0, 1),
    };
    // The product is exp(-t / 2): exp(-0.5) = 0.607 against 1 and 0.5 at 1, exp(-1) = 0.368 against 0.5 and 0 at 2.
    const found = causesTogether(two, [weibull(1, 4), weibull(1, 4)]);
    expect(found.time).toBe(1);
    expectAgreement(found.difference, Math.exp(-0.5) - 1, { rel: 1e-12 });
  });

  it("compares from where the curve starts under late entry (by hand: exp(-(6 - 3) / 2) against 1 and 0 at 6)", () => {
    const late = { time: Float64Array.of(6), failed: Uint8Array.of(1), entry: Float64Array.of(3) };
    expectAgreement(causesTogether(late, [weibull(1, 2)]).difference, Math.exp(-1.5) - 1, { rel: 1e-12 });
  });

  it("finds a small difference where causes are Weibull and independent (quantiles of two exponentials)", () => {
    const time = Float64Array.from({ length: 200 }, (_, at) => -Math.log1p(-(at + 0.5) / 200));
    const halves = Int32Array.from(time, (_, at) => at % 2);
    const data = { time, failed: new Uint8Array(200).fill(1), cause: halves };
    const found = causesTogether(data, causeWeibulls(data, 2));
    expect(Math.abs(found.difference ?? 1)).toBeLessThan(0.01);
  });

  it("says why there is none: no failure, too few at risk, a distribution that none would outlive", () => {
    const running = { time: Float64Array.of(3), failed: Uint8Array.of(0) };
    expect(causesTogether(running, [weibull(1, 1)])).toMatchObject({
      difference: null,
      reason: "there is no failure where enough lives are at risk",
    });
    const late = { time: Float64Array.of(6), failed: Uint8Array.of(1), entry: Float64Array.of(3) };
    expect(causesTogether(late, [weibull(1, 1)], 2)).toMatchObject({ difference: null, cause: null });
    expect(causesTogether(late, [weibull(50, 1e-3)])).toMatchObject({
      reason: "by the fitted distributions none would reach the first ages seen",
    });
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { familyOf } from "../../../src/stats/distribution/families.ts";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import { bootstrapInterval } from "../../../src/stats/fit/bootstrap-interval.ts";
import { calibratedCutOff } from "../../../src/stats/fit/calibrated.ts";
import { type ConvergedFit, fitSurface } from "../../../src/stats/fit/fit.ts";
import { jackknife, jackknifeInterval } from "../../../src/stats/fit/jackknife.ts";
import { lineLimits } from "../../../src/stats/fit/line-limits.ts";
import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import { type Interval, isInfinite, type Quantity } from "../../../src/stats/fit/quantity.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import { waldInterval } from "../../../src/stats/fit/wald-interval.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { expectAgreement } from "../../agree.ts";
import { FAMILIES, type Fitted, fitted, marked } from "./fitted.ts";

const endless = Number.POSITIVE_INFINITY;

function outcome(lives: Lives | IntervalLives, name: FamilyName): ConvergedFit | string {
  const surface = surfaceOf(lives, name);
  if ("refused" in surface) return surface.refused;
  const fit = fitSurface(surface);
  return fit.converged ? fit : fit.reason;
}

const rises = /^the likelihood (keeps rising as the shape|shows no clear maximum|is flat at its maximum)/;
const oneFailure = "there is only one failure; shape and scale need two";
const noFailures = "there are no failures";

/** Sets of which no shape can be told, and of which there is an exponential mean (by hand: total age / failures) or why not. */
const refused: { what: string; lives: Lives | IntervalLives; shaped: string | RegExp; exponential: number | string }[] =
  [
    {
      what: "no lives",
      lives: { time: new Float64Array(0), failed: new Uint8Array(0) },
      shaped: noFailures,
      exponential: noFailures,
    },
    { what: "all running", lives: marked("10+ 20+ 30+"), shaped: noFailures, exponential: noFailures },
    { what: "one failure", lives: marked("10 20+ 30+"), shaped: oneFailure, exponential: 60 },
    {
      what: "two equal failures",
      lives: marked("10 10"),
      shaped: "all failures are at the one age 10, which tells nothing of the shape",
      exponential: 10,
    },
    {
      what: "two equal failures and longer lives",
      lives: marked("10 10 40+"),
      shaped: "all failures are at the one age 10, which tells nothing of the shape",
      exponential: 30,
    },
    {
      what: "a length of 0",
      lives: marked("0 20 30"),
      shaped: "1 life is of length 0",
      exponential: "1 life is of length 0",
    },
    {
      what: "entry at the end",
      lives: { ...marked("10 20 30"), entry: Float64Array.of(10, 0, 0) },
      shaped: "1 life is over before coming under observation",
      exponential: "1 life is over before coming under observation",
    },
    {
      what: "counts of 0 but for one failure",
      lives: { ...marked("10 20 30+"), count: Float64Array.of(1, 0, 1) },
      shaped: oneFailure,
      exponential: 40,
    },
    {
      what: "all failed before the first look",
      lives: { low: Float64Array.of(0, 0), high: Float64Array.of(10, 30) },
      shaped: rises,
      exponential: "the likelihood shows no maximum: the lives don't tell the scale",
    },
    // exp(-10 / m) - exp(-20 / m) is greatest where exp(-10 / m) = 1/2.
    {
      what: "all failed between the same looks",
      lives: { low: Float64Array.of(10, 10), high: Float64Array.of(20, 20) },
      shaped: rises,
      exponential: 10 / Math.LN2,
    },
  ];

describe("lives of which no distribution can be told are refused with a reason", () => {
  it.each(refused)("$what", ({ lives, shaped, exponential }) => {
    for (const name of FAMILIES.filter((one) => one !== "exponential")) {
      const found = outcome(lives, name);
      if (typeof shaped === "string") expect(found).toBe(shaped);
      else expect(found, name).toMatch(shaped);
    }
    const found = outcome(lives, "exponential");
    if (typeof exponential === "string" || typeof found === "string") expect(found).toBe(exponential);
    else expectAgreement(found.scale, exponential, { rel: 1e-9 });
  });

  it("a gamma shape of over 100,000 is said to be a lognormal one; the others tell theirs", () => {
    const close = marked("1000 1000.1 1000.2 1000.3 1001");
    expect(outcome(close, "gamma")).toMatch(/can't be told from the lognormal$/);
    // Of complete lives the lognormal's 1 / sigma is that of the log ages, divisor n: R, 1 / sqrt(mean((x - mean(x))^2)), x = log(ages).
    expectAgreement(fitted(close, "lognormal").fit.shape, 2823.17089417, { rel: 1e-7 });
  });

  it("failures a millionth apart are fitted, on the shape's own scale", () => {
    // Two lives: sigma is half the difference of their logs.
    const { fit } = fitted(marked("1000 1000.001"), "lognormal");
    expectAgreement(fit.shape, 2 / Math.log1p(1e-6), { rel: 1e-6 });
  });
});

const quantities = (unit: number): Quantity[] => [
  { kind: "shape" },
  { kind: "scale" },
  { kind: "quantile", p: 0.1 },
  { kind: "quantile", p: 0.999 },
  { kind: "mean" },
  { kind: "survival", time: 3 * unit },
  { kind: "survival", time: 1e-9 * unit },
  { kind: "survival", time: 1e7 * unit },
  { kind: "conditional", age: 5 * unit, further: 2 * unit },
  { kind: "conditional", age: 5 * unit, further: 1e-14 * unit },
  { kind: "conditional", age: 1e-6 * unit, further: 1e6 * unit },
];

/** Numbers or, with a reason, none. */
function expectSound({ estimate, low, high, reason }: Interval, what: string): void {
  for (const end of [low, high]) expect(end === null || Number.isFinite(end), `${what}: ${low} to ${high}`).toBe(true);
  expect(Number.isNaN(estimate), what).toBe(false);
  expect(low === null || high === null, `${what}: ${reason}`).toBe(reason !== undefined);
  if (low !== null && high !== null) expect(low, what).toBeLessThanOrEqual(high);
  if (/^(profile|wald|calibrated)/.test(what)) expectAround({ estimate, low, high }, what);
}

function expectAround({ estimate, low, high }: Interval, what: string): void {
  expect(low ?? estimate, what).toBeLessThanOrEqual(estimate * (1 + 1e-9));
  expect(high ?? estimate, what).toBeGreaterThanOrEqual(estimate * (1 - 1e-9));
}

/** Few lives of all kinds in few places, so that ties, equal looks and one-sided sets are common; in units from 1e-6 to 1e9. */
const places = fc.constantFrom(1, 2, 2.0001, 5, 5, 8, 30, 1000);
const life = fc.record({
  at: places,
  until: places,
  kind: fc.constantFrom("exact", "exact", "removed", "removed", "before", "within"),
  entered: fc.constantFrom(0, 0, 0, 0.5, 0.999),
  count: fc.constantFrom(1, 1, 1, 3, 100),
});
const sets = fc.record({ lives: fc.array(life, { minLength: 1, maxLength: 9 }), unit: fc.constantFrom(1e-6, 1, 1e9) });

function columnsOf({ lives, unit }: typeof sets extends fc.Arbitrary<infer T> ? T : never): IntervalLives {
  const column = (of: (one: (typeof lives)[number]) => number) => Float64Array.from(lives, of);
  const low = column(({ kind, at }) => (kind === "before" ? 0 : at * unit));
  return {
    low,
    high: column(({ kind, at, until }) => {
      if (kind === "removed") return endless;
      return kind === "within" ? Math.max(at * 1.5, until) * unit : at * unit;
    }),
    entry: column(({ kind, at, entered }) => (kind === "before" ? 0 : entered * at * unit)),
    count: column(({ count }) => count),
  };
}

/** The intervals of a quantity by every method there is for the set. */
function* intervalsOf({ lives, family, surface, fit }: Fitted, unit: number): Generator<[string, Interval]> {
  const few = replicates(lives, surface, fit, { draws: 5, seed: 1 });
  const rows = "low" in lives ? lives.low.length : lives.time.length;
  const without = jackknife(
    lives,
    Int32Array.from({ length: rows }, (_, row) => row),
    surface,
    fit,
    1,
  );
  for (const quantity of quantities(unit)) {
    if (isInfinite(quantity, family, fit)) continue;
    const what = JSON.stringify(quantity);
    yield [`profile of ${what}`, profileInterval(surface, fit, quantity, 0.9)];
    yield [`wald of ${what}`, waldInterval(family, fit, quantity, 0.9)];
    if ("list" in few) {
      const cutOff = calibratedCutOff(surface, fit, quantity, 0.8, few.list);
      yield [`calibrated of ${what}`, profileInterval(surface, fit, quantity, 0.8, cutOff)];
      yield [`bootstrap of ${what}`, bootstrapInterval(surface, fit, quantity, 0.8, few.list)];
    }
    if ("without" in without) {
      yield [`jackknife of ${what}`, jackknifeInterval(surface, fit, quantity, 0.9, without)];
    }
  }
}

describe("whatever the lives, there is a fit with limits or a reason why not", () => {
  it.each(FAMILIES)("%s", { timeout: 60_000 }, (name) => {
    let fits = 0;
    fc.assert(
      fc.property(sets, (drawn) => {
        const lives = columnsOf(drawn);
        const found = outcome(lives, name);
        if (typeof found === "string") {
          expect(found).toMatch(/^[a-z0-9].{15}/);
          return;
        }
        fits++;
        const { shape, scale, logLikelihood, covariance } = found;
        for (const figure of [shape, scale, logLikelihood, ...covariance.flat()])
          expect(figure).toSatisfy(Number.isFinite);
        for (const [what, interval] of intervalsOf(fitted(lives, name), drawn.unit)) expectSound(interval, what);
      }),
      { seed: 20261126, numRuns: 60 },
    );
    expect(fits).toBeGreaterThan(15);
  });
});

describe("a unit of age changes nothing but the ages", () => {
  const lives = {
    ...marked("54 187+ 216 240 244 335 361+ 373 375 386 500+x2"),
    entry: Float64Array.of(0, 20, 0, 100, 0, 0, 0, 300, 0, 0, 0, 0),
  };
  const cases = FAMILIES.flatMap((name) => [1e-6, 1e9].map((unit) => ({ name, unit })));

  it.each(cases)("$name, $unit", ({ name, unit }) => {
    const scaled = { ...lives, time: lives.time.map((age) => age * unit), entry: lives.entry.map((age) => age * unit) };
    const [before, after] = [fitted(lives, name), fitted(scaled, name)];
    expectAgreement(after.fit.shape, before.fit.shape, { rel: 1e-9 });
    expectAgreement(after.fit.scale / unit, before.fit.scale, { rel: 1e-9 });
    expectAgreement(after.fit.logLikelihood, before.fit.logLikelihood - before.fit.failures * Math.log(unit), {
      rel: 1e-11,
    });
    const pairs: [Quantity, Quantity, number][] = [
      [{ kind: "quantile", p: 0.1 }, { kind: "quantile", p: 0.1 }, unit],
      [{ kind: "mean" }, { kind: "mean" }, unit],
      [{ kind: "survival", time: 200 }, { kind: "survival", time: 200 * unit }, 1],
      [{ kind: "conditional", age: 200, further: 50 }, { kind: "conditional", age: 200 * unit, further: 50 * unit }, 1],
    ];
    for (const [plain, other, factor] of pairs) {
      const was = profileInterval(before.surface, before.fit, plain, 0.95);
      const is = profileInterval(after.surface, after.fit, other, 0.95);
      expectAgreement(is.low! / factor, was.low!, { rel: 1e-7 }, `low ${plain.kind}`);
      expectAgreement(is.high! / factor, was.high!, { rel: 1e-7 }, `high ${plain.kind}`);
    }
  });
});

describe("numbers far out", () => {
  it.each(FAMILIES)("counts of a billion and over give the fit of their proportion: %s", (name) => {
    const ages = marked("100 200 300 400+");
    const [one, many] = [1, 1e9].map(
      (times) => fitted({ ...ages, count: Float64Array.of(1, 2, 1, 3).map((n) => n * times) }, name).fit,
    );
    expectAgreement(many!.shape, one!.shape, { rel: 1e-7 });
    expectAgreement(many!.scale, one!.scale, { rel: 1e-7 });
    expectAgreement(many!.covariance[0][0] * 1e9, one!.covariance[0][0], { rel: 1e-6 });
  });

  it("99 % censored: R's survreg on two failures, 100 and 250, and 198 lives to 1000", () => {
    // R 4.2.2, survival 3.5-3: survreg(Surv(c(100, 250, rep(1000, 198)), c(1, 1, rep(0, 198))) ~ 1, dist = d,
    //   control = list(rel.tolerance = 1e-14, iter.max = 200)); 1 / scale, exp(coef), loglik
    const lives = marked("100 250 1000+x198");
    const censored: [FamilyName, number, number, number][] = [
      ["weibull", 0.544114182412, 4685102.12884, -24.5488568012],
      ["exponential", 1, 99175, -25.0092824908],
      ["lognormal", 0.199801532569, 111630848.603, -24.445917739],
      ["log-logistic", 0.546067771005, 4493758.08078, -24.5464249023],
    ];
    for (const [name, shape, scale, logLikelihood] of censored) {
      const { fit } = fitted(lives, name);
      expectAgreement(fit.shape, shape, { rel: 1e-6 }, name);
      expectAgreement(fit.scale, scale, { rel: 1e-6 }, name);
      expectAgreement(fit.logLikelihood, logLikelihood, { rel: 1e-9 }, name);
    }
  });

  it("a line's fractions failed keep their digits down to 1e-17: Weibull and its hazard", () => {
    const fit: ConvergedFit = {
      converged: true,
      distribution: "weibull",
      shape: 2,
      scale: 1000,
      logLikelihood: 0,
      iterations: 1,
      failures: 5,
      covariance: [
        [0.04, 0],
        [0, 0.09],
      ],
    };
    const [point] = lineLimits(familyOf("weibull"), fit, Float64Array.of(1000 * 10 ** -8.5), 0.95);
    expectAgreement(point!.fractionFailed, 1e-17, { rel: 1e-12 });
    // log hazard -39.14 with error sqrt((2 * 0.2)^2 + (39.14 * 0.3)^2) = 11.75, by hand.
    const reach = 1.959963984540054 * Math.hypot(0.4, 17 * Math.LN10 * 0.3);
    expectAgreement(point!.low, 1e-17 * Math.exp(-reach), { rel: 1e-9 });
    expectAgreement(point!.high, -Math.expm1(-1e-17 * Math.exp(reach)), { rel: 1e-9 });
  });

  it("has no upper limit of a log-logistic mean that may be infinite, and says so", () => {
    // As the shape falls to 1 the mean grows without end, and twice the log-likelihood ratio comes to 0.164 (R: optimize over the log
    // scale of sum(dlogis(log(ages), a, 1, log = TRUE)), against optim over both), below the cut-off of 3.841.
    const { surface, fit } = fitted(marked("10 40 90 200 700"), "log-logistic");
    const mean = profileInterval(surface, fit, { kind: "mean" }, 0.95);
    expect(mean.low).toBeGreaterThan(0);
    expect(mean).toMatchObject({ high: null, reason: expect.stringMatching(/^no upper limit: the likelihood stays/) });
    expect(profileInterval(surface, fit, { kind: "shape" }, 0.95).low).toBeLessThan(1);
    expect(profileInterval(surface, fit, { kind: "mean" }, 0.95, 0.163).high).toBeGreaterThan(mean.estimate);
    expect(profileInterval(surface, fit, { kind: "mean" }, 0.95, 0.165).high).toBeNull();
  });

  it("has no limits beyond the range of numbers, and says so", () => {
    // Lognormal of 1 / sigma 0.02: the mean is exp(1250) scales, and its error on the log scale 2500 times that of the log shape.
    const { family, fit } = fitted(marked("10 20 30"), "lognormal");
    const flat: ConvergedFit = { ...fit, shape: 0.02 };
    expect(waldInterval(family, flat, { kind: "mean" }, 0.95)).toMatchObject({
      high: null,
      reason: "no upper limit: it lies beyond the range of numbers",
    });
    const sure: ConvergedFit = {
      ...flat,
      covariance: [
        [1e-9, 0],
        [0, 1e-9],
      ],
    };
    expect(waldInterval(family, sure, { kind: "mean" }, 0.95)).toMatchObject({ low: null, high: null });
  });

  it("refuses what no quantity can have, a level and a cut-off outside their ranges", () => {
    const { surface, family, fit } = fitted(marked("10 20 30"), "lognormal");
    for (const [quantity, words] of [
      [{ kind: "quantile", p: 1 }, "p must be in (0, 1), found 1"],
      [{ kind: "survival", time: 0 }, "must be above 0, found 0"],
      [{ kind: "conditional", age: 5, further: endless }, "must be above 0, found Infinity"],
    ] satisfies [Quantity, string][]) {
      expect(() => profileInterval(surface, fit, quantity, 0.95)).toThrow(words);
      expect(() => waldInterval(family, fit, quantity, 0.95)).toThrow(words);
    }
    expect(() => profileInterval(surface, fit, { kind: "shape" }, 95)).toThrow("found 95");
    expect(() => profileInterval(surface, fit, { kind: "shape" }, 0.95, 0)).toThrow(
      "the cut-off must be above 0, found 0",
    );
  });
});

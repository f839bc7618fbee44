import { describe, expect, it } from "vitest";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import { fitSurface } from "../../../src/stats/fit/fit.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import { andersonDarling } from "../../../src/stats/goodness/anderson-darling.ts";
import { drawnDistances } from "../../../src/stats/goodness/drawn-distances.ts";
import { edfDistances } from "../../../src/stats/goodness/edf-distances.ts";
import { fittedSample } from "../../../src/stats/goodness/fitted-sample.ts";
import { singlyCensored } from "../../../src/stats/goodness/singly-censored.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const bearings = new PublishedCase("01_ball_bearings");
const bearingLives = { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") };
const handbook = new PublishedCase("02_nist_censored");
const handbookLives = { time: handbook.numbers("hours"), failed: handbook.flags("failed") };
const few = { draws: 199, seed: 7 };
const ones = (size: number) => new Uint8Array(size).fill(1);

function fitted(lives: Lives, distribution: FamilyName) {
  const surface = surfaceOf(lives, distribution);
  if ("refused" in surface) throw new Error(surface.refused);
  const fit = fitSurface(surface);
  if (!fit.converged) throw new Error(fit.reason);
  return fit;
}

function distancesOf(lives: Lives, distribution: FamilyName, fit = fitted(lives, distribution)) {
  const sample = singlyCensored(lives);
  if ("refused" in sample) throw new Error(sample.refused);
  return edfDistances(fittedSample(sample, fit));
}

describe("edfDistances", () => {
  it.each(["weibull", "lognormal", "exponential"] as const)(
    "agrees with R for the ball bearings (Lieblein & Zelen 1956) under a %s",
    (distribution) => {
      const found = distancesOf(bearingLives, distribution);
      for (const [figure, name] of [
        ["andersonDarling", "anderson_darling"],
        ["cramerVonMises", "cramer_von_mises"],
        ["kolmogorovSmirnov", "kolmogorov_smirnov"],
      ] as const) {
        const { value, tolerance } = bearings.value(`edf.${distribution}.${name}`);
        expectAgreement(found[figure], value, tolerance, name);
      }
    },
  );

  it("agrees with SciPy for the ball bearings under a log-logistic", () => {
    // SciPy 1.17: d = fisk(1 / 0.298772742297, scale=exp(4.15888930987)), R's fit in the case file; -n - mean((2 i - 1) (log d.cdf(t) + log d.sf(t)[::-1])).
    expectAgreement(distancesOf(bearingLives, "log-logistic").andersonDarling, 0.19578255714976933, { rel: 1e-6 });
  });

  // The integrals of the definition by scipy.integrate.quad (SciPy 1.17) over each step of the empirical distribution, up to the
  // fitted fraction at the age of suspension; NIST/SEMATECH e-Handbook 8.2.2.1, Weibull of the handbook's fit in the case file.
  it.each([
    ["500 h, a fixed time", 500, 0.14386402794928296, 0.02471753574563961],
    ["386 h, the last failure", 386, 0.08037048054826633, 0.009508963049506117],
  ])("is the integral of its definition for lives suspended at %s", (_, end, andersonDarling, cramerVonMises) => {
    const fit = { ...fitted(handbookLives, "weibull"), ...handbookFit() };
    const lives = { time: handbookLives.time.map((age) => Math.min(age, end)), failed: handbookLives.failed };
    const found = distancesOf(lives, "weibull", fit);
    expectAgreement(found.andersonDarling, andersonDarling, { rel: 1e-9 });
    expectAgreement(found.cramerVonMises, cramerVonMises, { rel: 1e-9 });
  });

  it("takes failures at one age together, as rows or as counts", () => {
    // By scipy.integrate.quad as above: 10 10 20 30 30 30 under an exponential of mean 20.
    const fit = { ...fitted(bearingLives, "exponential"), scale: 20, shape: 1 };
    const rows = { time: Float64Array.of(30, 10, 30, 20, 10, 30), failed: new Uint8Array(6).fill(1) };
    const counts = {
      time: Float64Array.of(10, 20, 30),
      failed: new Uint8Array(3).fill(1),
      count: Float64Array.of(2, 1, 3),
    };
    for (const lives of [rows, counts]) {
      const found = distancesOf(lives, "exponential", fit);
      expectAgreement(found.andersonDarling, 1.2235684393652368, { rel: 1e-9 });
      expectAgreement(found.cramerVonMises, 0.2347985833849836, { rel: 1e-9 });
      // By hand: none of 6 against 1 - exp(-10 / 20) = 0.39347 just before 10.
      expectAgreement(found.kolmogorovSmirnov, 1 - Math.exp(-0.5), { rel: 1e-12 });
    }
  });

  it.each([1e-6, 1e9])("does not depend on the unit: ages times %d", (unit) => {
    const scaled = { ...bearingLives, time: bearingLives.time.map((age) => age * unit) };
    const plain = distancesOf(bearingLives, "weibull").andersonDarling;
    expectAgreement(distancesOf(scaled, "weibull").andersonDarling, plain, { rel: 1e-6 });
  });
});

function handbookFit() {
  return { shape: handbook.value("weibull.shape").value, scale: handbook.value("weibull.scale").value };
}

describe("drawnDistances", () => {
  // Upper 10 % and 5 % points from the tables of D'Agostino & Stephens 1986 (4.12, 4.14, 4.17, 4.22), from memory.
  const points: [FamilyName, number, (n: number) => number, number, number][] = [
    ["weibull", 0, (n) => 1 + 0.2 / Math.sqrt(n), 0.637, 0.757],
    ["exponential", 0, (n) => 1 + 0.6 / n, 1.062, 1.321],
    ["lognormal", 0, (n) => 1 + 0.75 / n + 2.25 / n ** 2, 0.631, 0.752],
    ["log-logistic", 0, (n) => 1 + 0.25 / n, 0.563, 0.66],
  ];
  it.each(points)(
    "has the tabulated upper points for complete sets: %s, seed 4",
    (distribution, _, modify, ten, five) => {
      const size = 25;
      const drawn = drawnDistances({ size, all: true }, { distribution, shape: 1 }, { draws: 1500, seed: 4 });
      const modified = drawn!.distances.map(({ andersonDarling }) => andersonDarling * modify(size));
      const beyond = (point: number) => modified.filter((distance) => distance >= point).length / 1500;
      // Three standard errors of a share of 0.1 and 0.05 in 1500.
      expectAgreement(beyond(ten), 0.1, { abs: 0.023 });
      expectAgreement(beyond(five), 0.05, { abs: 0.017 });
      expect(drawn!.redrawn).toBe(0);
    },
  );

  it("repeats the watching: no set reaches past its end, and stopping early leaves less distance", () => {
    const of = (watching: Parameters<typeof drawnDistances>[0]) => {
      const drawn = drawnDistances(watching, { distribution: "weibull", shape: 1 }, few)!;
      return drawn.distances.reduce((sum, { andersonDarling }) => sum + andersonDarling, 0) / few.draws;
    };
    const all = of({ size: 20, all: true });
    expect(of({ size: 20, until: 0.5 })).toBeLessThan(all);
    expect(of({ size: 20, failures: 10 })).toBeLessThan(of({ size: 20, failures: 19 }));
  });

  it("draws anew what allows no fit, and gives up where nothing does", () => {
    const weibull = { distribution: "weibull", shape: 1 } as const;
    expect(drawnDistances({ size: 5, until: 0.3 }, weibull, few)!.redrawn).toBeGreaterThan(0);
    expect(drawnDistances({ size: 5, until: 1e-9 }, weibull, few)).toBeNull();
  });
});

describe("andersonDarling", () => {
  it("finds a Weibull and a lognormal fitting the ball bearings, and no exponential", () => {
    // The modified statistics 0.342 and 0.195 lie below the tables' 25 % point 0.47, the exponential's 2.88 above its 1 % point 1.959.
    const of = (name: FamilyName) => andersonDarling(bearingLives, fitted(bearingLives, name), few);
    expect(of("weibull").pValue).toBeGreaterThan(0.25);
    expect(of("lognormal").pValue).toBeGreaterThan(0.25);
    expect(of("exponential").pValue).toBeLessThan(0.02);
    expectAgreement(of("weibull").statistic, 0.328609752922, { rel: 1e-5 });
  });

  it("is the same for the same seed, and counts the lives themselves among the draws", () => {
    const fit = fitted(bearingLives, "weibull");
    const found = andersonDarling(bearingLives, fit, few);
    expect(andersonDarling(bearingLives, fit, few)).toEqual(found);
    expectAgreement(found.pValue! * 200, Math.round(found.pValue! * 200), { abs: 1e-9 });
    expect(andersonDarling(bearingLives, { ...fit, scale: 1e4 }, few).pValue).toBe(1 / 200);
  });

  it("takes lives suspended at one age, at a fixed time or by the last failure", () => {
    for (const end of [500, 386]) {
      const lives = { time: handbookLives.time.map((age) => Math.min(age, end)), failed: handbookLives.failed };
      const found = andersonDarling(lives, fitted(lives, "weibull"), few);
      expect(found.reason).toBeUndefined();
      expect(found.pValue).toBeGreaterThan(0.05);
      expect(found.draws).toBe(199);
    }
  });

  it("stays quick with many failures, and with few among many lives", () => {
    const size = 200_000;
    const time = Float64Array.from({ length: size }, (_, life) => 1e4 * Math.sqrt(-Math.log1p(-(life + 0.5) / size)));
    const lives = { time, failed: new Uint8Array(size).fill(1) };
    const found = andersonDarling(lives, fitted(lives, "weibull"), { draws: 19, seed: 1 });
    expect(found.pValue).toBe(1);
    const rare = { time: Float64Array.of(...time.slice(0, 30), time[30]!), failed: ones(31), count: ones(31) };
    rare.failed[30] = 0;
    const running = { ...rare, count: Float64Array.from(rare.count, (one, at) => (at === 30 ? size - 30 : one)) };
    const sparse = andersonDarling(running, fitted(running, "weibull"), few);
    expect(sparse.redrawn).toBe(0);
    expect(sparse.pValue).toBeGreaterThan(0.5);
  });

  const fit = { distribution: "weibull", shape: 2, scale: 100 } as const;
  it.each<[string, Lives | IntervalLives]>([
    ["some lives came under observation late", { ...bearingLives, entry: new Float64Array(23).fill(1) }],
    [
      "some failures are known only to lie within an interval",
      { low: Float64Array.of(1, 2), high: Float64Array.of(1, 3) },
    ],
    [
      "lives were suspended at 2 different ages",
      { time: Float64Array.of(5, 6, 7, 8), failed: Uint8Array.of(1, 1, 0, 0) },
    ],
    [
      "lives were suspended before the last failure",
      { time: Float64Array.of(5, 6, 7), failed: Uint8Array.of(1, 0, 1) },
    ],
    ["there are no failures", { time: Float64Array.of(5, 5), failed: Uint8Array.of(0, 0) }],
    ["there are no failures", { time: new Float64Array(0), failed: ones(0) }],
    ["1 life is of length 0", { time: Float64Array.of(0, 5), failed: ones(2) }],
  ])("has no statistic where %s", (reason, lives) => {
    expect(andersonDarling(lives, fit, few)).toEqual({ statistic: null, pValue: null, draws: 0, redrawn: 0, reason });
  });

  it("has a statistic but no p-value where sets like the lives can't be drawn", () => {
    const part = { time: Float64Array.of(5, 6, 7), failed: ones(3), count: Float64Array.of(1.5, 1, 1) };
    const found = andersonDarling(part, fit, few);
    expect(found).toMatchObject({ pValue: null, reason: "counts of lives that are not whole can't be drawn" });
    expect(found.statistic).not.toBeNull();
    const rare = { time: Float64Array.of(5, 6, 7), failed: Uint8Array.of(1, 1, 0) };
    expect(andersonDarling(rare, { ...fit, scale: 1e12 }, few)).toMatchObject({
      pValue: null,
      reason: "hardly any set drawn like this one allows a fit",
    });
  });

  it("has a reason where an age lies out of the fitted curve's reach", () => {
    const far = { time: Float64Array.of(1, 2, 1e300), failed: ones(3) };
    expect(andersonDarling(far, fit, few).reason).toBe("an age lies where the fitted curve has no chance left");
  });

  it.each([2, 3])("works on %d lives and on ties", (size) => {
    const time = Float64Array.from({ length: size }, (_, life) => 50 + 10 * life);
    const lives = { time, failed: ones(size) };
    const found = andersonDarling(lives, fitted(lives, "weibull"), few);
    expect(found.pValue).toBeGreaterThan(0);
    const tied = { ...lives, count: new Float64Array(size).fill(40) };
    expect(andersonDarling(tied, fitted(tied, "weibull"), few).pValue).toBeLessThan(0.05);
  });

  it("refuses draws that are no whole number", () => {
    expect(() => andersonDarling(bearingLives, fit, { draws: 0, seed: 1 })).toThrow("a whole number from 1, found 0");
    expect(() => andersonDarling(bearingLives, fit, { draws: 9.5, seed: 1 })).toThrow(RangeError);
  });
});

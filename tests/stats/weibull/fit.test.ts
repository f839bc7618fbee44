import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { fitWeibull } from "../../../src/stats/weibull/fit.ts";
import { gatherLives } from "../../../src/stats/weibull/gather-lives.ts";
import { weibullMean } from "../../../src/stats/weibull/mean.ts";
import { expectAgreement } from "../../agree.ts";
import { converged } from "./converged.ts";
import { profileInterval } from "./weibull-intervals.ts";

function marked(text: string): Lives {
  const words = text
    .trim()
    .split(/\s+/)
    .flatMap((word) => {
      const [life = "", times = "1"] = word.split("x");
      return Array<string>(Number(times)).fill(life);
    });
  return {
    time: Float64Array.from(words, (word) => Number.parseFloat(word)),
    failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
  };
}

describe("fitWeibull agrees with published fits", () => {
  const tenOfTwenty = marked("54 187 216 240 244 335 361 373 375 386 500+x10");
  const bearings =
    marked(`17.88 28.92 33.00 41.52 42.12 45.60 48.48 51.84 51.96 54.12 55.56 67.80 68.64 68.64 68.88 84.12 93.12 98.64
    105.12 105.84 127.92 128.04 173.40`);

  it("W-WB1: NIST/SEMATECH e-Handbook 8.4.1.3: 606.5280, 1.7208, -75.135, AIC 154.27, mean 540.737", () => {
    const fit = converged(tenOfTwenty);
    expectAgreement(fit.scale, 606.528, { abs: 0.01 });
    expectAgreement(fit.shape, 1.7208, { abs: 5e-4 });
    expectAgreement(fit.logLikelihood, -75.135, { abs: 0.0025 });
    expectAgreement(4 - 2 * fit.logLikelihood, 154.27, { abs: 0.005 });
    expectAgreement(weibullMean(fit.shape, fit.scale), 540.737, { abs: 0.01 });
  });

  it("W-WB1: covariance of (log life, log shape) and profile interval of the shape, recomputed in R", () => {
    const fit = converged(tenOfTwenty);
    // The source's covariance is with the log of 1 / shape: the sign of the off-diagonal turns.
    const expected = [0.042413, -0.027128, -0.027128, 0.085155];
    for (const [at, value] of fit.covariance.flat().entries()) expectAgreement(value, expected[at]!, { abs: 1e-5 });
    const { low, high } = profileInterval(tenOfTwenty, fit, { kind: "shape" }, 0.95);
    expectAgreement(low, 0.9056, { abs: 1e-3 });
    expectAgreement(high, 2.8857, { abs: 1e-3 });
  });

  it("W-WB2: Lieblein & Zelen 1956, 23 bearings: 2.102, 81.88, -113.691; L10 28.069 (16.288 to 40.765), mean 72.52", () => {
    const fit = converged(bearings);
    expectAgreement(
      bearings.time.reduce((sum, life) => sum + life, 0),
      1661.16,
      { abs: 1e-9 },
    );
    expectAgreement(fit.shape, 2.102, { abs: 5e-4 });
    expectAgreement(fit.scale, 81.88, { abs: 0.005 });
    expectAgreement(fit.logLikelihood, -113.691, { abs: 5e-4 });
    const l10 = profileInterval(bearings, fit, { kind: "quantile", p: 0.1 }, 0.95);
    expectAgreement(l10.estimate, 28.069, { abs: 1e-3 });
    expectAgreement(l10.low, 16.288, { abs: 1e-3 });
    expectAgreement(l10.high, 40.765, { abs: 1e-3 });
    expectAgreement(profileInterval(bearings, fit, { kind: "mean" }, 0.95).estimate, 72.52, { abs: 5e-3 });
  });

  it("W-WB3: Nelson 1982, 70 generator fans: 1.0584, 26297, -135.153", () => {
    const fans =
      marked(`450 460+ 1150x2 1560+ 1600 1660+ 1850+x5 2030+x3 2070x2 2080 2200+ 3000+x4 3100 3200+ 3450 3750+x2 4150+x4 4300+x4
      4600 4850+x4 5000+x3 6100 6100+x3 6300+ 6450+x2 6700+ 7450+ 7800+x2 8100+x2 8200+ 8500+x3 8750 8750+x2 9400+ 9900+ 10100+x3 11500+`);
    expect([fans.time.length, fans.time.reduce((sum, life) => sum + life, 0)]).toEqual([70, 344440]);
    const fit = converged(fans);
    expectAgreement(fit.shape, 1.0584, { abs: 1e-3 });
    expectAgreement(fit.scale, 26297, { abs: 1 });
    expectAgreement(fit.logLikelihood, -135.153, { abs: 1e-3 });
  });

  it("W-WB6: Nelson 1982, 432 turbine wheels inspected once (R's turbine data): 2.1758, 46.777 hundred hours, -189.287", () => {
    const rows = "4/39/0 10/53/4 14/33/2 18/73/7 22/30/5 26/39/9 30/42/9 34/13/6 38/34/22 42/40/21 46/36/21"
      .split(" ")
      .map((row) => row.split("/").map(Number));
    const lives: IntervalLives = {
      low: Float64Array.from(rows.flatMap(([age = 0]) => [0, age])),
      high: Float64Array.from(rows.flatMap(([age = 0]) => [age, Number.POSITIVE_INFINITY])),
      count: Float64Array.from(rows.flatMap(([, all = 0, cracked = 0]) => [cracked, all - cracked])),
    };
    expect(lives.count?.reduce((sum, count) => sum + count, 0)).toBe(432);
    const fit = converged(lives);
    expectAgreement(fit.shape, 2.1758, { abs: 1e-3 });
    expectAgreement(100 * fit.scale, 4677.7, { abs: 0.5 });
    expectAgreement(fit.logLikelihood, -189.287, { abs: 1e-3 });
  });

  it("W-WB7: Nelson 1982, 167 parts inspected in turn (R's cracks data; answer from memory): 1.485, 2182 days, -309.631", () => {
    const days = [0, 186, 606, 902, 1077, 1209, 1377, 1592, 1932, Number.POSITIVE_INFINITY];
    const lives: IntervalLives = {
      low: Float64Array.from(days.slice(0, -1)),
      high: Float64Array.from(days.slice(1)),
      count: Float64Array.of(5, 16, 12, 18, 18, 2, 6, 17, 73),
    };
    const fit = converged(lives);
    expectAgreement(fit.shape, 1.485, { abs: 1e-3 });
    expectAgreement(fit.scale, 2182, { abs: 0.5 });
    expectAgreement(fit.logLikelihood, -309.631, { abs: 1e-3 });
  });
});

/** Lives of all kinds; at least two failures at different ages. */
const someLives = fc
  .record({
    ages: fc.uniqueArray(fc.double({ min: 0.5, max: 50, noNaN: true }), { minLength: 5, maxLength: 25 }),
    flags: fc.array(fc.boolean(), { minLength: 25, maxLength: 25 }),
    entered: fc.array(fc.double({ min: 0, max: 0.6, noNaN: true }), { minLength: 25, maxLength: 25 }),
  })
  .map(({ ages, flags, entered }) => ({
    time: Float64Array.from(ages),
    failed: Uint8Array.from(ages, (_, life) => (life < 3 || flags[life] === true ? 1 : 0)),
    entry: Float64Array.from(ages, (age, life) => (entered[life]! > 0.4 ? entered[life]! * age : 0)),
  }))
  .filter(({ time }) => Math.max(...time.subarray(0, 3)) / Math.min(...time.subarray(0, 3)) > 1.2);

const runs = { seed: 7, numRuns: 200 };

describe("fitWeibull", () => {
  it("moves the scale and nothing else when the unit changes, from 1e-6 to 1e9", () => {
    fc.assert(
      fc.property(someLives, fc.integer({ min: -6, max: 9 }), (lives, power) => {
        const unit = 10 ** power;
        const before = fitWeibull(lives);
        const after = fitWeibull({
          ...lives,
          time: lives.time.map((age) => age * unit),
          entry: lives.entry.map((age) => age * unit),
        });
        expect(after.converged).toBe(before.converged);
        if (!before.converged || !after.converged) return;
        expectAgreement(after.shape, before.shape, { rel: 1e-8 }, "shape");
        expectAgreement(Math.log(after.scale / unit), Math.log(before.scale), { abs: 1e-7, rel: 1e-7 }, "log scale");
        const moved = before.logLikelihood - before.failures * Math.log(unit);
        expectAgreement(after.logLikelihood, moved, { abs: 1e-9, rel: 1e-12 }, "log-likelihood");
      }),
      runs,
    );
  });

  it("does not look at the order of the rows", () => {
    fc.assert(
      fc.property(someLives, (lives) => {
        const before = fitWeibull(lives);
        const turned = {
          time: lives.time.toReversed(),
          failed: lives.failed.toReversed(),
          entry: lives.entry.toReversed(),
        };
        const after = fitWeibull(turned);
        expect(after.converged).toBe(before.converged);
        if (before.converged && after.converged) expectAgreement(after.shape, before.shape, { rel: 1e-9 });
      }),
      runs,
    );
  });

  it("takes a count of k as k copies", () => {
    fc.assert(
      fc.property(someLives, fc.integer({ min: 2, max: 5 }), (lives, copies) => {
        const counted = fitWeibull({ ...lives, count: new Float64Array(lives.time.length).fill(copies) });
        const repeat = (column: Float64Array) =>
          Float64Array.from({ length: copies * column.length }, (_, at) => column[at % column.length]!);
        const failed = Uint8Array.from(repeat(Float64Array.from(lives.failed)));
        const copied = fitWeibull({ time: repeat(lives.time), failed, entry: repeat(lives.entry) });
        expect(counted.converged).toBe(copied.converged);
        if (!counted.converged || !copied.converged) return;
        expectAgreement(counted.shape, copied.shape, { rel: 1e-9 });
        expectAgreement(counted.logLikelihood, copied.logLikelihood, { rel: 1e-11, abs: 1e-9 });
        expectAgreement(counted.covariance[1][1], copied.covariance[1][1], { rel: 1e-7 });
      }),
      runs,
    );
  });

  it("merges whole ages and tenths without changing anything", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 4, maxLength: 40 }), (ages) => {
        const time = Float64Array.from([...ages, 70], (age) => age / 10);
        const failed = Uint8Array.from(time, (_, life) => (life % 3 === 2 ? 0 : 1));
        const merged = gatherLives({ time, failed });
        const apart = fitWeibull({ time: time.map((age) => age * Math.PI), failed });
        if ("refused" in merged || !apart.converged) return;
        expect(merged.z.length).toBe(new Set(time).size);
        const fit = fitWeibull(merged);
        expectAgreement(fit.converged ? fit.shape : null, apart.shape, { rel: 1e-9 });
      }),
      runs,
    );
  });

  it("comes to the exact fit as intervals become narrow, down to a width of 1e-12", () => {
    const time = Float64Array.of(54, 187, 216, 240, 500, 500, 500);
    const failed = Uint8Array.of(1, 1, 1, 1, 0, 0, 0);
    const exact = converged({ time, failed });
    for (const width of [1e-3, 1e-6, 1e-9, 1e-12]) {
      const low = time.map((age, life) => (failed[life] === 1 ? age * (1 - width / 2) : age));
      const high = time.map((age, life) => (failed[life] === 1 ? age * (1 + width / 2) : Number.POSITIVE_INFINITY));
      const fit = converged({ low, high });
      const rounding = 1e-16 / width;
      expectAgreement(fit.shape, exact.shape, { rel: width + rounding }, `width ${width}`);
      expectAgreement(fit.covariance[1][1], exact.covariance[1][1], { rel: width + rounding }, `variance at ${width}`);
      const logWidths = time.reduce(
        (sum, _, life) => sum + (failed[life] === 1 ? Math.log(high[life]! - low[life]!) : 0),
        0,
      );
      expectAgreement(fit.logLikelihood - logWidths, exact.logLikelihood, { rel: 1e-5 });
    }
  });

  it("leaves its input as it was", () => {
    const time = Float64Array.of(5, 3, 9);
    fitWeibull({ time, failed: Uint8Array.of(1, 1, 0) });
    expect([...time]).toEqual([5, 3, 9]);
  });

  it("ends at a point where every likelihood nearby is lower", () => {
    const lives = marked("54 187 216 240 244 335+ 361 373+ 375 386 500+x10");
    const { shape, scale, logLikelihood } = converged(lives);
    const at = (b: number, eta: number) =>
      lives.time.reduce((sum, t, life) => {
        const density = lives.failed[life] === 1 ? Math.log(b) - b * Math.log(eta) + (b - 1) * Math.log(t) : 0;
        return sum + density - (t / eta) ** b;
      }, 0);
    expectAgreement(logLikelihood, at(shape, scale), { rel: 1e-13 });
    for (const [db, deta] of [
      [1e-3, 0],
      [-1e-3, 0],
      [0, 1e-3],
      [0, -1e-3],
      [1e-3, 1e-3],
      [-1e-3, 1e-3],
    ] as const) {
      expect(at(shape * (1 + db), scale * (1 + deta))).toBeLessThan(logLikelihood);
    }
  });

  // Few ages are climbed on, many passed over for a series. Mean log age weighted by hazard = mean log age of the failures + 1 / shape
  // (Meeker & Escobar, ch. 8), here term by term.
  it.each([
    { lives: 300, shape: 0.7 },
    { lives: 300, shape: 4 },
    { lives: 3000, shape: 0.7 },
    { lives: 3000, shape: 4 },
  ])("solves the equation of the shape for $lives lives of shape $shape, many of which run", ({ lives, shape }) => {
    const unitAge = (at: number, of: number) => (-Math.log1p(-(at + 0.5) / of)) ** (1 / shape);
    const time = Float64Array.from({ length: lives }, (_, life) => {
      const end = 9000 * unitAge((life * 7919) % lives, lives);
      return Math.min(end, 9000 * (0.2 + (0.9 * ((life * 104_729) % lives)) / lives));
    });
    const failed = Uint8Array.from(time, (end, life) => (end === 9000 * unitAge((life * 7919) % lives, lives) ? 1 : 0));
    const fit = converged({ time, failed });
    const failures = [...time].filter((_, life) => failed[life] === 1);
    const logs = failures.reduce((sum, end) => sum + Math.log(end), 0) / failures.length;
    const hazard = time.map((end) => (end / fit.scale) ** fit.shape);
    const total = hazard.reduce((sum, one) => sum + one, 0);
    const weighted = hazard.reduce((sum, one, life) => sum + one * Math.log(time[life]!), 0) / total;
    expectAgreement(total, failures.length, { rel: 1e-12 });
    expectAgreement(weighted - logs, 1 / fit.shape, { rel: 1e-11 });
  });
});

describe("fitWeibull says why it can't", () => {
  const infinity = Number.POSITIVE_INFINITY;
  const exact = (time: number[], failed: number[], entry?: number[]): Lives => ({
    time: Float64Array.from(time),
    failed: Uint8Array.from(failed),
    ...(entry === undefined ? {} : { entry: Float64Array.from(entry) }),
  });
  const cases: [string, Lives | IntervalLives, string, number][] = [
    ["no lives", exact([], []), "there are no failures", 0],
    ["no failures", exact([5, 6], [0, 0]), "there are no failures", 0],
    ["one failure", exact([5, 6], [1, 0]), "there is only one failure; shape and scale need two", 1],
    [
      "all failures at one age, none longer",
      exact([5, 5, 5, 2], [1, 1, 1, 0]),
      "all failures are at the one age 5, which tells nothing of the shape",
      3,
    ],
    [
      "all failures at one age, some longer",
      exact([5, 5, 9], [1, 1, 0]),
      "all failures are at the one age 5, which tells nothing of the shape",
      2,
    ],
    ["a life of length 0", exact([0, 5, 6], [1, 1, 1]), "1 life is of length 0", 3],
    [
      "lives over at their entry",
      exact([4, 4, 5, 6], [0, 0, 1, 1], [4, 4, 0, 0]),
      "2 lives are over before coming under observation",
      2,
    ],
    [
      "all failures within one interval",
      { low: Float64Array.of(100, 100, 200), high: Float64Array.of(200, 200, infinity) },
      "the likelihood",
      2,
    ],
    [
      "one inspection of all",
      { low: Float64Array.of(0, 10), high: Float64Array.of(10, infinity), count: Float64Array.of(3, 4) },
      "shape and scale can't be told apart",
      3,
    ],
  ];
  it.each(cases)("%s", (_, lives, reason, failures) => {
    const fit = fitWeibull(lives);
    expect(fit).toMatchObject({ converged: false, failures });
    expect(fit.converged ? "" : fit.reason).toContain(reason);
  });

  it("where late entries hide all that would show the shape: hazard falling faster than any Weibull's", () => {
    const entry = [1, 10, 100, 1000, 1, 10, 100, 1000];
    const fit = fitWeibull(
      exact(entry.map((age) => age * 1.01).concat(2000, 3000), [1, 1, 1, 1, 1, 1, 1, 1, 0, 0], entry.concat(1, 1)),
    );
    expect(fit.converged ? "" : fit.reason).toMatch(/the likelihood (keeps rising|is flat|shows no)/);
  });

  const mistakes: [string, Lives | IntervalLives][] = [
    ["NaN", exact([Number.NaN, 5], [1, 1])],
    ["an age below 0", exact([-1, 5], [1, 1])],
    ["an endless age", exact([infinity, 5], [1, 1])],
    ["columns of unequal length", exact([1, 2, 3], [1, 1])],
    ["a flag of 2", exact([1, 2], [1, 2])],
    ["a negative entry", exact([1, 2], [1, 1], [-1, 0])],
    ["an interval the wrong way round", { low: Float64Array.of(5), high: Float64Array.of(4) }],
    ["an interval without an end", { low: Float64Array.of(5), high: Float64Array.of(Number.NaN) }],
    ["a negative count", { ...exact([1, 2], [1, 1]), count: Float64Array.of(1, -1) }],
  ];
  it.each(mistakes)("refuses %s as a mistake of the program", (_, lives) => {
    expect(() => fitWeibull(lives)).toThrow(RangeError);
  });
});

describe("fitWeibull at the edges of numbers", () => {
  it("fits shapes from 0.05 to 500 whose answer is known: exact quantiles of the distribution itself", () => {
    for (const shape of [0.05, 0.5, 20, 500]) {
      const time = Float64Array.from(
        { length: 2000 },
        (_, at) => 1000 * (-Math.log1p(-(at + 0.5) / 2000)) ** (1 / shape),
      );
      const fit = converged({ time, failed: new Uint8Array(2000).fill(1) });
      expectAgreement(fit.shape, shape, { rel: 5e-3 }, `shape ${shape}`);
    }
  });

  it("holds for a million lives as for their thousandth, counted", () => {
    const ages = Float64Array.from({ length: 1000 }, (_, at) => 1 + ((at * 7919) % 1000));
    const failed = Uint8Array.from(ages, (_, at) => (at % 3 === 0 ? 1 : 0));
    const repeated = { time: new Float64Array(1_000_000), failed: new Uint8Array(1_000_000) };
    for (let life = 0; life < 1_000_000; life++) {
      repeated.time[life] = ages[life % 1000]!;
      repeated.failed[life] = failed[life % 1000]!;
    }
    const all = converged(repeated);
    const counted = converged({ time: ages, failed, count: new Float64Array(1000).fill(1000) });
    expectAgreement(all.shape, counted.shape, { rel: 1e-12 });
    expectAgreement(all.logLikelihood, counted.logLikelihood, { rel: 1e-12 });
  });

  const quantities: Quantity[] = [
    { kind: "shape" },
    { kind: "scale" },
    { kind: "quantile", p: 0.1 },
    { kind: "mean" },
    { kind: "survival", time: 10 },
  ];

  it.each(quantities)("keeps the limits of $kind around the estimate, and says why where there is none", (quantity) => {
    fc.assert(
      fc.property(someLives, (lives) => {
        const fit = fitWeibull(lives);
        fc.pre(fit.converged);
        const { low, high, estimate, reason } = profileInterval(lives, fit, quantity, 0.9);
        expect(low ?? estimate).toBeLessThanOrEqual(estimate);
        expect(high ?? estimate).toBeGreaterThanOrEqual(estimate);
        expect(low === null || high === null).toBe(reason !== undefined);
      }),
      runs,
    );
  });
});

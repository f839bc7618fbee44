import { describe, expect, it } from "vitest";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import type { ConvergedAcceleratedLife } from "../../../src/stats/regression/accelerated-life.ts";
import type { ClusterRefits } from "../../../src/stats/regression/cluster-refits.ts";
import { jackknifeContrast } from "../../../src/stats/regression/jackknife-contrast.ts";
import { jackknifeCovariance } from "../../../src/stats/regression/jackknife-covariance.ts";
import { jackknifeTest } from "../../../src/stats/regression/jackknife-test.ts";
import { predictedLife } from "../../../src/stats/regression/predicted-life.ts";
import { refitWithoutClusters } from "../../../src/stats/regression/refit-without-clusters.ts";
import { sandwichCovariance } from "../../../src/stats/regression/sandwich-covariance.ts";
import { scoreResiduals } from "../../../src/stats/regression/score-residuals.ts";
import { expectAgreement } from "../../agree.ts";
import {
  column,
  FAMILIES,
  fitted,
  lung,
  type Regressed,
  referenceLives,
  referenceRows,
  upper,
} from "./regression-data.ts";

function refits(found: ReturnType<typeof refitWithoutClusters>): ClusterRefits {
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

describe("scoreResiduals", () => {
  it.each(FAMILIES)("sum to 0 over lives of all kinds: %s", (family) => {
    const { lives, covariates } = referenceLives("all");
    const fit = fitted({ lives, covariates }, family);
    const scores = scoreResiduals(lives, covariates, fit);
    expect(scores.length).toBe(fit.parameters);
    for (const score of scores) {
      const size = score.reduce((sum, value) => sum + Math.abs(value), 0);
      expect(size).toBeGreaterThan(1);
      expectAgreement(
        score.reduce((sum, value) => sum + value, 0),
        0,
        { abs: 1e-9 * size },
      );
    }
  });

  it("are by hand what an exponential life adds", () => {
    const lives: Lives = {
      time: Float64Array.of(2, 4, 9),
      failed: Uint8Array.of(1, 1, 0),
      count: Float64Array.of(1, 1, 2),
    };
    const fit = fitted({ lives, covariates: [] }, "exponential");
    // The mean is (2 + 4 + 2 * 9) / 2 = 12; a row's score is count * (t / 12 - failed).
    expectAgreement(Math.exp(fit.coefficients[0]!), 12, { rel: 1e-14 });
    const [scores] = scoreResiduals(lives, [], fit);
    for (const [row, value] of [2 / 12 - 1, 4 / 12 - 1, 18 / 12].entries())
      expectAgreement(scores![row], value, { abs: 1e-13 });
  });
});

describe("sandwichCovariance", () => {
  it.each(referenceRows().filter(({ what }) => what === "robust"))(
    "agrees with 60 digits' figures on $set: $family",
    ({ set, family, values }) => {
      const { lives, covariates, unit } = referenceLives(set);
      const fit = fitted({ lives, covariates }, family);
      const found = upper(sandwichCovariance(fit.covariance, scoreResiduals(lives, covariates, fit), unit));
      const size = Math.max(...values.map(Math.abs));
      for (const [at, value] of values.entries())
        expectAgreement(found[at], value, { rel: 1e-8, abs: 1e-11 * size }, `figure ${at}`);
    },
  );

  it("agrees with R on the lung data, clustered by institution", () => {
    const { lives, covariates, institution } = lung("age", "sex", "ph_ecog", "inst");
    const fit = fitted({ lives, covariates });
    const found = sandwichCovariance(fit.covariance, scoreResiduals(lives, covariates, fit), institution);
    // R 4.2.2, survival 3.5-3: survreg(Surv(time, event) ~ age + sex + ph.ecog + cluster(inst), lung where inst is known,
    // control = survreg.control(rel.tolerance = 1e-14)); coefficients, robust errors with that of log sigma last
    const coefficients = [6.279368449231709, -0.007633212398232, 0.406406909403284, -0.345066091322748];
    const errors = [0.390823005842952, 0.005205704806982, 0.096482706664394, 0.088678422643107, 0.056686932842588];
    for (const [at, value] of coefficients.entries()) expectAgreement(fit.coefficients[at], value, { rel: 1e-9 });
    for (const [at, value] of errors.entries()) expectAgreement(Math.sqrt(found[at]![at]!), value, { rel: 1e-8 });
  });

  it("is wrong to be called with scores of another fit", () => {
    const scores = [Float64Array.of(1, -1)];
    expect(() =>
      sandwichCovariance(
        [
          [1, 0],
          [0, 1],
        ],
        scores,
        Int32Array.of(0, 1),
      ),
    ).toThrow(RangeError);
    expect(() => sandwichCovariance([[1]], scores, Int32Array.of(0))).toThrow(RangeError);
  });
});

describe("refitWithoutClusters", () => {
  it.each(FAMILIES)("leaves each unit out as 60 digits' fits of the others do: %s", (family) => {
    const { lives, covariates, unit } = referenceLives("all");
    const fit = fitted({ lives, covariates }, family);
    const found = refits(refitWithoutClusters(lives, covariates, fit, unit, 1));
    const errors = errorsOf(fit);
    const rows = referenceRows().filter((row) => row.family === family && row.what.startsWith("without"));
    expect(rows.map(({ what }) => what)).toEqual([7, 0, 3, 9, 11].map((one) => `without ${one}`));
    expect(found.without.length).toBe(5);
    for (const [at, { values }] of rows.entries()) {
      expect(found.without[at]!.length).toBe(values.length);
      // The jackknife settles for a millionth of a standard error.
      for (const [one, value] of values.entries())
        expectAgreement(found.without[at]![one], value, { abs: 1e-6 * errors[one]! });
    }
  });

  it.each([
    { family: "weibull", what: "followed from the start", entered: false, counted: false, levels: false },
    { family: "weibull", what: "entering late", entered: true, counted: false, levels: false },
    { family: "weibull", what: "entering late, several a row", entered: true, counted: true, levels: false },
    { family: "weibull", what: "with levels and a product", entered: true, counted: false, levels: true },
    { family: "exponential", what: "entering late, several a row", entered: true, counted: true, levels: false },
    { family: "exponential", what: "with levels and a product", entered: true, counted: true, levels: true },
  ] as const)("leaves each unit out as a fit of the others does: $family, $what", (asking) => {
    const { family, entered, counted, levels } = asking;
    const { lives, covariates, unit } = (levels ? levelledPairs : pairs)(60);
    const [time, failed] = [lives.time, lives.failed];
    const asked: IntervalLives = {
      low: time,
      high: time.map((age, row) => (failed[row] === 1 ? age : Number.POSITIVE_INFINITY)),
      ...(entered && { entry: time.map((age, row) => (row % 5 === 0 ? 0.6 * age : 0)) }),
      ...(counted && { count: time.map((_, row) => 1 + (row % 3)) }),
    };
    // A unit with a failure at twice the greatest age, and one with 40 of the lives: their refits lie far off.
    asked.low[0] = 4000;
    asked.high[0] = 4000;
    const own = unit.map((one, row) => (row >= 80 ? 59 : one));
    const fit = fitted({ lives: asked, covariates }, family);
    const errors = errorsOf(fit);
    const found = refits(refitWithoutClusters(asked, covariates, fit, own, 1));
    const units = [...new Set(own)];
    expect(found.without.length).toBe(units.length);
    for (const [at, left] of units.entries()) {
      const rows = Array.from(own.keys()).filter((row) => own[row] !== left);
      const pick = (values: Float64Array) => Float64Array.from(rows, (row) => values[row]!);
      const others: IntervalLives = {
        low: pick(asked.low),
        high: pick(asked.high),
        ...(asked.entry && { entry: pick(asked.entry) }),
        ...(asked.count && { count: pick(asked.count) }),
      };
      const of = covariates.map(({ name, values }) => ({ name, values: pick(values) }));
      const refit = fitted({ lives: others, covariates: of }, family);
      for (const [one, value] of numbersOf(refit).entries())
        expectAgreement(found.without[at]![one], value, { abs: 1e-6 * errors[one]! }, `unit ${left}, number ${one}`);
    }
  });

  it("puts over 200 units together in 200, by the seed", () => {
    const set = pairs(450);
    const fit = fitted(set);
    const once = refits(refitWithoutClusters(set.lives, set.covariates, fit, set.unit, 3));
    expect(once.without.length).toBe(200);
    expect(refitWithoutClusters(set.lives, set.covariates, fit, set.unit, 3)).toEqual(once);
    expect(refitWithoutClusters(set.lives, set.covariates, fit, set.unit, 4)).not.toEqual(once);
  });

  it("says why where the lives left can't be fitted", () => {
    const time = Float64Array.of(120, 250, 310, 455, 520, 610, 700, 810);
    const failed = Uint8Array.of(1, 1, 1, 0, 1, 1, 1, 0);
    const lives: Lives = { time, failed };
    const unit = Int32Array.of(0, 0, 1, 1, 2, 2, 3, 3);
    const without = (covariate: number[], of: Lives = lives, clusters = unit) => {
      const covariates = [column("lube", covariate)];
      return refitWithoutClusters(of, covariates, fitted({ lives: of, covariates }), clusters, 1);
    };
    expect(without([0, 0, 0, 0, 1, 1, 0, 0])).toEqual({
      reason: 'without one unit covariate "lube" is the same for all lives',
    });
    const runsAway = without([0, 0, 0, 1, 1, 0, 0, 1]);
    expect(runsAway).toEqual({
      reason: expect.stringMatching(/^without one unit the coefficient of "lube" runs away/),
    });
    const two = { time, failed: Uint8Array.of(1, 0, 0, 0, 1, 0, 0, 0) };
    expect(without([0, 1, 0, 1, 1, 0, 1, 0], two)).toEqual({ reason: "without one unit too few failures are left" });
    expect(without([0, 1, 0, 1, 1, 0, 1, 0], lives, new Int32Array(8))).toEqual({
      reason: "all lives are of one unit",
    });
    expect(() => without([0, 1, 0, 1, 1, 0, 1, 0], lives, new Int32Array(7))).toThrow(RangeError);
  });
});

function numbersOf({ coefficients, sigma, distribution }: ConvergedAcceleratedLife): number[] {
  return [...coefficients, ...(distribution === "weibull" ? [Math.log(sigma)] : [])];
}

/** Standard errors of the coefficients and, where there is one, log sigma. */
function errorsOf({ covariance }: ConvergedAcceleratedLife): number[] {
  return covariance.map((row, one) => Math.sqrt(row[one]!));
}

/** Units of two lives that have their own level in common. */
function pairs(units: number): Regressed & { lives: Lives; unit: Int32Array } {
  const time = Float64Array.from({ length: 2 * units }, (_, row) => {
    const level = Math.sin(7 * (row >> 1)) / 3;
    return 1000 * Math.exp(level) * (0.2 + Math.abs(Math.sin(3 * row + 1)));
  });
  return {
    lives: { time, failed: Uint8Array.from(time, (_, row) => (row % 3 === 0 ? 0 : 1)) },
    covariates: [
      column(
        "x",
        time.map((_, row) => Math.cos(5 * row)),
      ),
      column(
        "y",
        time.map((_, row) => Math.sin(11 * (row >> 1))),
      ),
    ],
    unit: Int32Array.from(time, (_, row) => row >> 1),
  };
}

/** The same with a level, and its product with a value. */
function levelledPairs(units: number): ReturnType<typeof pairs> {
  const set = pairs(units);
  const value = set.covariates[0]!.values;
  const level = value.map((_, row) => (row % 5 < 2 ? 1 : 0));
  const product = value.map((own, row) => own * level[row]!);
  return { ...set, covariates: [...set.covariates, column("level", level), column("x in level", product)] };
}

/** Two numbers of six refits: means 0.5 and 1.5, scattered evenly. */
const six: ClusterRefits = {
  full: Float64Array.of(0.6, 1.4),
  without: [
    [0.4, 1.6],
    [0.6, 1.7],
    [0.5, 1.3],
    [0.45, 1.45],
    [0.55, 1.55],
    [0.5, 1.4],
  ].map((numbers) => Float64Array.from(numbers)),
};

describe("jackknifeCovariance", () => {
  it("is by hand 5/6 of the sums of products", () => {
    // squares .01 + .01 + 0 + .0025 + .0025 + 0 = .025; .01 + .04 + .04 + .0025 + .0025 + .01 = .105;
    // products -.01 + .02 + 0 + .0025 + .0025 + 0 = .015
    const expected = [
      [0.025, 0.015],
      [0.015, 0.105],
    ];
    const found = jackknifeCovariance(six);
    for (const [at, row] of expected.entries()) {
      for (const [to, sum] of row.entries()) expectAgreement(found[at]![to], (5 / 6) * sum, { abs: 1e-15 });
    }
  });
});

describe("jackknifeContrast", () => {
  it("lies about the estimate less its bias", () => {
    // By hand: error sqrt(5/6 * .025); bias 5 * (.5 - .6) = -.5; kurtosis 6 * (.0001 + .0001 + 2 * 6.25e-6) / .025^2 = 2.04 < 3, so 5 degrees,
    // whose t at 0.975 is 2.570581836 (R qt(0.975, 5)); p: R 2 * pt(-1.1 / sqrt(5/6 * .025), 5)
    const found = jackknifeContrast(six, [1, 0], 0.95);
    const error = Math.sqrt((5 / 6) * 0.025);
    expectAgreement(found.bias, -0.5, { abs: 1e-14 });
    expectAgreement(found.error, error, { abs: 1e-15 });
    expectAgreement(found.degrees, 5, { abs: 1e-12 });
    expectAgreement(found.low, 1.1 - 2.570581836 * error, { abs: 1e-9 });
    expectAgreement(found.high, 1.1 + 2.570581836 * error, { abs: 1e-9 });
    expectAgreement(found.p, 0.00061841830027978, { rel: 1e-10 });
  });

  it("takes sums of numbers", () => {
    const [one, both] = [jackknifeContrast(six, [0, 2], 0.9), jackknifeContrast(six, [1, -1], 0.9)];
    expectAgreement(one.estimate, 2.8, { abs: 1e-14 });
    // 5/6 * (.025 + .105 - 2 * .015)
    expectAgreement(both.error, Math.sqrt((5 / 6) * 0.1), { abs: 1e-14 });
    expect(() => jackknifeContrast(six, [1, 2, 3], 0.9)).toThrow(RangeError);
    expect(() => jackknifeContrast(six, [Number.NaN], 0.9)).toThrow(RangeError);
    expect(() => jackknifeContrast(six, [1], 1)).toThrow(RangeError);
  });

  it("says how sure an L10 is, from the same refits", () => {
    const { lives, covariates, unit } = pairs(40);
    const fit = fitted({ lives, covariates });
    const found = refits(refitWithoutClusters(lives, covariates, fit, unit, 1));
    const question = { p: 0.1, at: [0.5, 0.2], level: 0.95 };
    const [jackknifed, delta] = [predictedLife(fit, question, found), predictedLife(fit, question)];
    expect(jackknifed.estimate).toBe(delta.estimate);
    // By hand for Weibull lives: log L10 = coefficients + sigma * log(-log 0.9).
    const logs = found.without.map(
      ([a, b, c, e]) => a! + 0.5 * b! + 0.2 * c! + Math.exp(e!) * Math.log(-Math.log(0.9)),
    );
    const mean = logs.reduce((sum, value) => sum + value, 0) / 40;
    const error = Math.sqrt((39 / 40) * logs.reduce((sum, value) => sum + (value - mean) ** 2, 0));
    expectAgreement(jackknifed.logError, error, { rel: 1e-10 });
    // Units differ by a third on log life: the delta method, which takes lives to be unrelated, must not say the same.
    expect(Math.abs(Math.log(jackknifed.logError / delta.logError))).toBeGreaterThan(0.02);
  });
});

describe("jackknifeTest", () => {
  it("is by hand Hotelling's", () => {
    // b less its bias: .6 + .5 = 1.1; bias of the other 5 * (1.5 - 1.4) = .5, so .9. V = 5/6 [.025 .015; .015 .105], its determinant 25/36 * .0024.
    // b' V^-1 b = 6/5 * (1.21 * .105 - 2 * .99 * .015 + .81 * .025) / .0024 = 6/5 * .1176 / .0024 = 58.8
    // d' S^-1 d of the six, S^-1 = [.105 -.015; -.015 .025] / .0024: 2/3, 29/48, 5/12 and 5/48 three times; kurtosis 6 * sum of squares / 8 = 0.76,
    // below the 1 of a normal law: 5 degrees.
    const found = jackknifeTest(six, [0, 1]);
    if ("reason" in found) throw new Error(found.reason);
    expectAgreement(found.f, (4 / 10) * 58.8, { rel: 1e-12 });
    expect(found).toMatchObject({ degrees: 2, below: 4 });
    // R: pf(0.4 * 58.8, 2, 4, lower.tail = FALSE)
    expectAgreement(found.p, 0.00614184215957, { rel: 1e-10 });
  });

  it("is for one number the t test of its contrast", () => {
    const { lives, covariates, unit } = pairs(40);
    const found = refits(refitWithoutClusters(lives, covariates, fitted({ lives, covariates }), unit, 1));
    for (const one of [1, 2]) {
      const test = jackknifeTest(found, [one]);
      if ("reason" in test) throw new Error(test.reason);
      const contrast = jackknifeContrast(found, one === 1 ? [0, 1] : [0, 0, 1], 0.95);
      expectAgreement(test.below, contrast.degrees, { rel: 1e-9 });
      expectAgreement(test.p, contrast.p, { rel: 1e-9 });
    }
  });

  it("does not depend on how the numbers are written", () => {
    const { lives, covariates, unit } = pairs(40);
    const found = refits(refitWithoutClusters(lives, covariates, fitted({ lives, covariates }), unit, 1));
    const turned = (numbers: Float64Array) =>
      numbers.with(1, numbers[1]! + 3 * numbers[2]!).with(2, 1e6 * (numbers[1]! - numbers[2]!));
    const other = { full: turned(found.full), without: found.without.map(turned) };
    const [one, two] = [jackknifeTest(found, [1, 2]), jackknifeTest(other, [1, 2])];
    if ("reason" in one || "reason" in two) throw new Error("a test was expected");
    expectAgreement(two.f, one.f, { rel: 1e-9 });
    expectAgreement(two.below, one.below, { rel: 1e-9 });
  });

  it("says why there is none", () => {
    const few = { full: six.full, without: six.without.slice(0, 2) };
    expect(jackknifeTest(few, [0, 1])).toEqual({ reason: "2 units are too few to test 2 coefficients together" });
    const alike = { full: six.full, without: six.without.map(() => six.full) };
    expect(jackknifeTest(alike, [0])).toEqual({ reason: expect.stringContaining("too much alike") });
    const twins = { full: six.full, without: six.without.map(([one]) => Float64Array.of(one!, 2 * one!)) };
    expect(jackknifeTest(twins, [0, 1])).toEqual({ reason: expect.stringContaining("too much alike") });
    for (const places of [[], [2], [0, 0]]) expect(() => jackknifeTest(six, places)).toThrow(RangeError);
  });
});

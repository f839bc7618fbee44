import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { familyOf } from "../../../src/stats/distribution/families.ts";
import { emptyTerms, type Family, type FamilyName, type Terms } from "../../../src/stats/distribution/family.ts";
import { expectAgreement } from "../../agree.ts";

const SHAPED: FamilyName[] = ["weibull", "lognormal", "log-logistic", "gamma"];
const ALL: FamilyName[] = [...SHAPED, "exponential"];
const FUNCTIONS = ["logDensity", "logSurvival", "logFailed"] as const;
const TERMS = ["value", "w", "e", "ww", "we", "ee"] as const;

function termsAt(family: Family, name: (typeof FUNCTIONS)[number], w: number, e: number): Terms {
  const out = emptyTerms();
  family[name](w, e, out);
  return out;
}

describe("values and derivatives", () => {
  // family-values.py beside this test, mpmath 1.3.0
  const rows = readFileSync(new URL("family-values.csv", import.meta.url), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const cases = SHAPED.flatMap((family) => FUNCTIONS.map((name) => ({ family, name })));

  // Of z = k w, up to 700, one rounding more or less changes exp(z) by 700 * 2^-52 = 1.6e-13.
  it.each(cases)("$name of $family agree with mpmath", ({ family, name }) => {
    const mine = rows.map((row) => row.split(",")).filter((row) => row[0] === family && row[1] === name);
    expect(mine.length).toBeGreaterThan(30);
    for (const [, , w, e, ...expected] of mine) {
      const found = termsAt(familyOf(family), name, Number(w), Number(e));
      for (const [at, term] of TERMS.entries()) {
        expectAgreement(
          found[term],
          Number(expected[at]),
          { rel: 3e-13, abs: family === "gamma" ? 1e-110 : 1e-303 },
          `${term} at ${w}, ${e}:`,
        );
      }
    }
  });

  it.each(FUNCTIONS)("%s of exponential is that of weibull at shape 1, with nothing by shape", (name) => {
    for (const w of [-690, -3, -0.1, 0.2, 4, 690]) {
      const { value, w: slope, ww } = termsAt(familyOf("weibull"), name, w, 0);
      expect(termsAt(familyOf("exponential"), name, w, 0.7)).toEqual({ value, w: slope, e: 0, ww, we: 0, ee: 0 });
    }
  });
});

/** z = k w between limits, and e. */
const point = (low: number, high: number, steepest: number) =>
  fc.record({
    z: fc.double({ min: low, max: high, noNaN: true }),
    e: fc.double({ min: -steepest, max: steepest, noNaN: true }),
  });

/** w about z standard deviations above the mean of a gamma distribution, or so far below that its fraction failed is near exp(z). */
function gammaPlace(z: number, e: number): number {
  const a = Math.exp(e);
  return z < 0 ? e + z / a : Math.log(a + z * Math.sqrt(a) + z);
}

describe.each(ALL)("%s", (name) => {
  const family = familyOf(name);
  const shape = (e: number) => (family.fitsShape ? Math.exp(e) : 1);
  const placed = (z: number, e: number) => (name === "gamma" ? gammaPlace(z, e) : z / shape(e));

  it("has derivatives that its values and first derivatives differ by", () => {
    const step = 1e-5;
    fc.assert(
      fc.property(point(-25, 4, 4), fc.constantFrom(...FUNCTIONS), ({ z, e }, of) => {
        const k = name === "gamma" ? Math.max(shape(e), 1) : shape(e);
        const w = placed(z, e);
        const [byW, byE] = [step / k, step / (1 + Math.abs(z))];
        const at = termsAt(family, of, w, e);
        const [right, left] = [termsAt(family, of, w + byW, e), termsAt(family, of, w - byW, e)];
        const [up, down] = [termsAt(family, of, w, e + byE), termsAt(family, of, w, e - byE)];
        const size = (2 + z * z + Math.exp(z)) * (2 + Math.abs(z)) ** 2 * (name === "gamma" ? k : 1);
        const abs = 1e-8 * size;
        expectAgreement((right.value - left.value) / (2 * step), at.w / k, { abs }, "w");
        expectAgreement((up.value - down.value) / (2 * byE), at.e, { abs }, "e");
        expectAgreement((right.w - left.w) / (2 * step * k), at.ww / k ** 2, { abs }, "ww");
        expectAgreement((up.w - down.w) / (2 * byE * k), at.we / k, { abs }, "we");
        expectAgreement((right.e - left.e) / (2 * step), at.we / k, { abs }, "we");
        expectAgreement((up.e - down.e) / (2 * byE), at.ee, { abs }, "ee");
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it("has a density that is the slope of both its fractions, which add to 1", () => {
    fc.assert(
      fc.property(point(-600, 6, 7), ({ z, e }) => {
        const w = placed(z, e);
        const density = termsAt(family, "logDensity", w, e);
        const survival = termsAt(family, "logSurvival", w, e);
        const failed = termsAt(family, "logFailed", w, e);
        expectAgreement(Math.exp(survival.value) + Math.exp(failed.value), 1, { abs: 1e-13 });
        const size = 1e-15 * (Math.abs(density.value) + Math.abs(survival.value) + Math.abs(failed.value) + 100);
        expectAgreement(failed.w, Math.exp(density.value - failed.value), { rel: 2 * size });
        expectAgreement(-survival.w, Math.exp(density.value - survival.value), { rel: 2 * size, abs: 1e-290 });
      }),
      { seed: 42, numRuns: 500 },
    );
  });

  it("is a number all over its range", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -7, max: 7, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom(...FUNCTIONS),
        (e, share, of) => {
          const w = -700 + share * (700 + Math.min(680 / shape(e), name === "gamma" ? 680 : Number.POSITIVE_INFINITY));
          for (const [term, value] of Object.entries(termsAt(family, of, w, e))) {
            expect(Number.isFinite(value), `${of} ${term} at ${w}, ${e}`).toBe(true);
          }
        },
      ),
      { seed: 43, numRuns: 500 },
    );
  });

  it("has quantiles by which their fraction has failed, and derivatives of them", () => {
    for (const p of [1e-290, 1e-9, 0.01, 0.5, 0.9, 1 - 1e-9]) {
      for (const e of [-6, -0.3, 0, 1, 6]) {
        const { value, e: first, ee } = family.quantile(p, e);
        const { value: logFailed, w, e: byE } = termsAt(family, "logFailed", value, e);
        expectAgreement(logFailed, Math.log(p), { rel: 1e-12, abs: 1e-16 }, `p = ${p}, e = ${e}:`);
        expectAgreement(w * first, -byE, { rel: 1e-12 }, `p = ${p}, e = ${e}:`);
        const step = 1e-5;
        const [up, down] = [family.quantile(p, e + step), family.quantile(p, e - step)];
        expectAgreement((up.e - down.e) / (2 * step), ee, { rel: 1e-8, abs: 1e-10 }, `p = ${p}, e = ${e}:`);
      }
    }
  });
});

describe("gamma", () => {
  // mpmath 1.3.0, 40 digits: w = findroot(log(gammainc(exp(e), 0, exp(w), regularized=True)) - log(p)) and its diff by e;
  // the values are those of scipy 1.17.1, log(scipy.special.gammaincinv(exp(e), p)), to 1e-15
  it.each([
    [-2, 0.01, -34.50049848008626, 34.12625968080512, -33.940819087061705],
    [-2, 0.9, -0.9302485696615951, 1.1975059809186932, -0.605264622901624],
    [0.5, 1e-5, -6.743187538084386, 7.520290063690279, -6.744791405981586],
    [0.5, 0.5, 0.28517589422429057, 1.226817263786536, -0.24936092815131203],
    [3, 0.1, 2.6809164378272907, 1.1777096318233935, -0.10878280891319234],
    [6, 0.999, 6.149231987545519, 0.9276220501275227, 0.03402161383158213],
  ])("at e = %d has failed by the fraction %d at %d, with its derivatives", (e, p, value, first, second) => {
    const found = familyOf("gamma").quantile(p, e);
    expectAgreement(found.value, value, { rel: 1e-13 });
    expectAgreement(found.e, first, { rel: 1e-13 });
    expectAgreement(found.ee, second, { rel: 1e-12 });
  });

  it("stays finite where exp(w) leaves the range of numbers", () => {
    for (const w of [-1e6, 700, 1e6]) {
      for (const name of FUNCTIONS) {
        for (const e of [-7, 0, 7]) {
          const terms = Object.values(termsAt(familyOf("gamma"), name, w, e));
          expect(terms.every(Number.isFinite), `${name} at ${w}, ${e}`).toBe(true);
        }
      }
    }
  });

  it("has the mean shape * scale", () => {
    expect(familyOf("gamma").logMean(0.3)).toEqual({ value: 0.3, e: 1, ee: 0 });
  });
});

describe("logMean", () => {
  // mpmath 1.3.0, 40 digits: diff(f, e, order) of f = loggamma(1 + exp(-e)), exp(-2 * e) / 2, log(y / sin(y)) at y = pi * exp(-e)
  it.each<[FamilyName, number, number, number, number]>([
    ["weibull", -2, 9.319265722531375, -15.26685473705609, 22.178385145775263],
    ["weibull", 1.5, -0.09172361320658028, 0.05803929266879129, 0.0033998145361121153],
    ["lognormal", -2, 27.299075016572118, -54.598150033144236, 109.19630006628847],
    ["lognormal", 1.5, 0.024893534183931972, -0.049787068367863944, 0.09957413673572789],
    ["log-logistic", 0.01, 4.600328882656858, -100.46842220170097, 10003.109610637552],
    ["log-logistic", 2.25, 0.0183408202724815, -0.03681709270307261, 0.07417980673755675],
    ["log-logistic", 2.5, 0.01110815151486212, -0.02226585849872266, 0.04473078131244324],
  ])("of %s at e = %d is %d, with its derivatives", (name, e, value, first, second) => {
    const found = familyOf(name).logMean(e);
    expectAgreement(found?.value, value, { rel: 1e-13 });
    expectAgreement(found?.e, first, { rel: 1e-13 });
    expectAgreement(found?.ee, second, { rel: 1e-13 });
  });

  it("of log-logistic is none up to shape 1, where the mean is infinite", () => {
    expect([-1, 0].map((e) => familyOf("log-logistic").logMean(e))).toEqual([null, null]);
  });

  it("of exponential is 0", () => {
    expect(familyOf("exponential").logMean(1)).toEqual({ value: 0, e: 0, ee: 0 });
  });
});

describe("familyOf()", () => {
  it("refuses a name of none", () => {
    expect(() => familyOf("normal" as FamilyName)).toThrow('there is none named "normal"');
  });
});

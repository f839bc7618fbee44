import { describe, expect, it } from "vitest";
import { crossingChances } from "../../../src/stats/trial/crossing-chances.ts";
import { earlyStoppingConstant } from "../../../src/stats/trial/early-stopping-constant.ts";
import { spendingBounds } from "../../../src/stats/trial/spending-bounds.ts";
import { trialInflation } from "../../../src/stats/trial/trial-inflation.ts";
import { expectAgreement } from "../../agree.ts";

const JENNISON =
  "C. Jennison & B. W. Turnbull, Group Sequential Methods, 2000: table 2.3, 2.4 (from memory, recomputed)";
// scipy 1.17: bound after bound by brentq on multivariate_normal.cdf over the box, correlation sqrt(d(j) / d(k)), abseps 1e-8
const SCIPY = "scipy 1.17, multivariate_normal.cdf";

function boundsOf(failures: number[], planned: number, level = 0.95): (number | null)[] {
  const found = spendingBounds(failures, { planned, level });
  if (found.looks === null) throw new Error(found.reason);
  return found.looks.map(({ bound }) => bound);
}

function sum(values: number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

describe("spendingBounds", () => {
  it.each([
    { failures: [25, 50, 75], planned: 75, bounds: [3.71, 2.511, 1.993], within: 5e-4, source: JENNISON },
    { failures: [25, 50, 75], planned: 75, bounds: [3.7103029, 2.5114275, 1.9930474], within: 1e-5, source: SCIPY },
    { failures: [12, 40, 41], planned: 60, bounds: [4.8768849, 2.5093203, 2.5590785], within: 2e-5, source: SCIPY },
    { failures: [30, 60, 90], planned: 75, bounds: [3.3568694, 2.2546426, 2.071186], within: 1e-5, source: SCIPY },
    {
      failures: [8, 30, 31, 75],
      planned: 60,
      bounds: [6.0272406, 2.9625881, 2.9836104, 1.9747086],
      within: 2e-5,
      source: SCIPY,
    },
    { failures: [75], planned: 75, bounds: [1.959964], within: 1e-6, source: "normal table" },
    { failures: [200], planned: 75, bounds: [1.959964], within: 1e-6, source: "normal table: all is spent at once" },
  ])("after $failures of $planned failures: $bounds ($source)", ({ failures, planned, bounds, within }) => {
    for (const [look, bound] of boundsOf(failures, planned).entries()) {
      expectAgreement(bound, bounds[look]!, { abs: within }, `look ${look}`);
    }
  });

  it.each([
    { failures: [25, 50, 75], planned: 75 },
    { failures: [3, 9, 40, 41, 42, 74, 90], planned: 75 },
    { failures: [1000, 1999, 2000], planned: 2000 },
  ])("spends all of the error by the plan, look by look what it says: $failures", ({ failures, planned }) => {
    const found = spendingBounds(failures, { planned });
    if (found.looks === null) throw new Error(found.reason);
    const { upper, lower } = crossingChances({ failures, bounds: found.looks.map(({ bound }) => bound) }, 0);
    for (const [look, { spent }] of found.looks.entries()) {
      expectAgreement(sum(upper.slice(0, look + 1)) + sum(lower.slice(0, look + 1)), spent, { abs: 1e-8 });
    }
    expectAgreement(found.looks.at(-1)?.spent, 0.05, { abs: 1e-12 });
  });

  it("gives no bound where nothing may be spent yet, or any more", () => {
    const found = spendingBounds([1, 40, 80, 90], { planned: 75 });
    expect(found.looks?.map(({ bound, p, reason }) => [bound === null, p === null, reason])).toEqual([
      [true, true, "so early a look may not stop the trial"],
      [false, false, undefined],
      [false, false, undefined],
      [true, true, "earlier looks have spent all of the error"],
    ]);
    // a look that can't stop the trial costs nothing
    expectAgreement(boundsOf([1, 40, 80], 75)[2], boundsOf([40, 80], 75)[1]!, { abs: 1e-5 });
  });

  it("leaves error unspent where the last look comes short of the plan", () => {
    expect(spendingBounds([30, 60], { planned: 75 }).looks?.[1]?.spent).toBeLessThan(0.05);
  });

  it.each([
    { failures: [25, 25], reason: "a look at 25 failures shows nothing new after one at 25" },
    { failures: [25, 20], reason: "a look at 20 failures shows nothing new after one at 25" },
    { failures: [0, 20], reason: "a look without failures shows nothing" },
    { failures: [50_000, 50_001], reason: "looks at 50000 and 50001 failures are too near to each other" },
    { failures: [], reason: "there is no look" },
  ])("says why looks at $failures can't be judged", ({ failures, reason }) => {
    expect(spendingBounds(failures, { planned: 75 })).toEqual({ looks: null, reason });
  });

  it("refuses what is no plan, level or number", () => {
    expect(() => spendingBounds([1], { planned: 0 })).toThrow("the failures planned must be above 0, found 0");
    expect(() => spendingBounds([1], { planned: 1, level: 1 })).toThrow("the level must lie in (0, 1)");
    expect(() => spendingBounds([Number.NaN], { planned: 1 })).toThrow("failures must be 0 or more, found NaN");
  });
});

describe("earlyStoppingConstant and trialInflation", () => {
  it.each([
    { looks: 1, constant: 1.96, inflation: 1 },
    { looks: 2, constant: 1.977, inflation: 1.008 },
    { looks: 3, constant: 2.004, inflation: 1.017 },
    { looks: 4, constant: 2.024, inflation: 1.024 },
    { looks: 5, constant: 2.04, inflation: 1.028 },
  ])(`are $constant and $inflation for $looks looks: ${JENNISON}`, ({ looks, constant, inflation }) => {
    const found = earlyStoppingConstant(looks, 0.95);
    expectAgreement(found, constant, { abs: 5.001e-4 });
    const failures = Array.from({ length: looks }, (_, look) => 20 * (look + 1));
    const bounds = failures.map((seen) => found * Math.sqrt((20 * looks) / seen));
    expectAgreement(trialInflation({ failures, bounds }, { power: 0.8 }), inflation, { abs: 5.001e-4 });
  });

  it("refuses what has no answer", () => {
    expect(() => earlyStoppingConstant(0, 0.95)).toThrow("looks must be a whole number of 1 to 50, found 0");
    expect(() => trialInflation({ failures: [10], bounds: [null] })).toThrow("no effect gives the power");
  });
});

describe("crossingChances", () => {
  // scipy 1.17: multivariate_normal(0.3 sqrt(d), sqrt(d(j) / d(k))).cdf over boxes within the bounds before a look, beyond them at it
  it("agrees with scipy on three looks at a trial with an effect", () => {
    const { upper, lower } = crossingChances({ failures: [20, 33, 70], bounds: [3, 2.5, 2] }, 0.3);
    for (const [look, chance] of [0.0486225, 0.1754111, 0.4789479].entries()) {
      expectAgreement(upper[look], chance, { abs: 1e-6 }, `upper at look ${look}`);
    }
    for (const [look, chance] of [7.0711e-6, 1.09966e-5, 2.9291e-6].entries()) {
      expectAgreement(lower[look], chance, { abs: 1e-9 }, `lower at look ${look}`);
    }
  });

  it("gives the published power of one look", () => {
    // Schoenfeld: case 16, 50 failures at a ratio of 0.5 have power 0.68817408892
    const { upper } = crossingChances({ failures: [50], bounds: [1.959963984540054] }, 0.5 * Math.LN2);
    expectAgreement(upper[0], 0.68817408892, { abs: 1e-9 });
  });

  it("is the mirror of itself for an effect the other way", () => {
    const looks = { failures: [20, 33, 70], bounds: [3, null, 2] };
    const [one, other] = [crossingChances(looks, 0.3), crossingChances(looks, -0.3)];
    for (const [look, chance] of one.upper.entries()) expectAgreement(other.lower[look], chance, { abs: 1e-12 });
    expect(one.upper[1]).toBe(0);
  });

  it("stays a chance for effects of any size", () => {
    const { upper, lower } = crossingChances({ failures: [20, 40, 60], bounds: [3, 2.5, 2] }, 50);
    expectAgreement(sum(upper), 1, { abs: 1e-9 });
    expect(sum(lower)).toBe(0);
  });

  it("refuses bounds and looks that are none", () => {
    expect(() => crossingChances({ failures: [1], bounds: [] }, 0)).toThrow("found 0 bounds for 1 looks");
    expect(() => crossingChances({ failures: [1], bounds: [-1] }, 0)).toThrow("a bound must be above 0, found -1");
    expect(() => crossingChances({ failures: [2, 1], bounds: [1, 1] }, 0)).toThrow("shows nothing new");
    expect(() => crossingChances({ failures: [1], bounds: [2] }, Number.NaN)).toThrow("the effect is NaN");
  });
});

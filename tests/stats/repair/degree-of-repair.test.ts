import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareRepairModels } from "../../../src/stats/repair/compare-repair-models.ts";
import { type DegreeOfRepair, degreeOfRepair, type FittedRepair } from "../../../src/stats/repair/degree-of-repair.ts";
import type { RepairHistories } from "../../../src/stats/repair/repair-histories.ts";
import type { RepairModel } from "../../../src/stats/repair/virtual-ages.ts";
import { fitWeibull } from "../../../src/stats/weibull/fit.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { drawnUnits } from "./drawn-units.ts";
import { historiesOf, publishedUnits, type UnitOf } from "./repair-data.ts";

const MODELS = ["I", "II"] as const;

function fitted(units: UnitOf[], model: RepairModel = "I", level = 0.95): FittedRepair {
  const found = degreeOfRepair(historiesOf(units), { model, level });
  if (!found.converged) throw new Error(found.reason);
  return found;
}

const simulated = publishedUnits(new PublishedCase("15a_kijima_simulated"));

/** Watched for one time, so that the power-law process has a closed form. */
const together: UnitOf[] = [
  { repairs: [310, 870, 1320, 1910], end: 2000 },
  { repairs: [940, 1250, 1780], end: 2000 },
  { repairs: [520, 1470], end: 2000 },
  { repairs: [1630, 1850], end: 2000 },
];

describe("degreeOfRepair is, at its bounds,", () => {
  it.each(MODELS)("the power-law process at 1, in closed form (model %s)", (model) => {
    const { before } = fitted(together, model).tests;
    const logs = together.flatMap(({ repairs, end }) => repairs.map((age) => Math.log(end / age)));
    const shape = logs.length / logs.reduce((sum, log) => sum + log, 0);
    const scale = 2000 / (logs.length / together.length) ** (1 / shape);
    const rates = together.flatMap(({ repairs }) =>
      repairs.map((age) => Math.log((shape / scale) * (age / scale) ** (shape - 1))),
    );
    expectAgreement(before.shape, shape, { rel: 1e-10 });
    expectAgreement(before.scale, scale, { rel: 1e-10 });
    expectAgreement(before.logLikelihood, rates.reduce((sum, log) => sum + log, 0) - logs.length, { rel: 1e-12 });
  });

  it.each(MODELS)("the Weibull fit of the gaps at 0 (model %s)", (model) => {
    const gaps = simulated.flatMap(({ repairs, end }) =>
      [...repairs, end].map((age, at) => ({ time: age - (repairs[at - 1] ?? 0), failed: at < repairs.length ? 1 : 0 })),
    );
    const weibull = fitWeibull({
      time: Float64Array.from(gaps, ({ time }) => time),
      failed: Uint8Array.from(gaps, ({ failed }) => failed),
    });
    if (!weibull.converged) throw new Error(weibull.reason);
    const found = fitted(simulated, model).tests.new;
    expectAgreement(found.shape, weibull.shape, { rel: 1e-9 });
    expectAgreement(found.scale, weibull.scale, { rel: 1e-9 });
    expectAgreement(found.logLikelihood, weibull.logLikelihood, { rel: 1e-12 });
  });

  it("the same under both models while no unit is followed beyond its second failure", () => {
    // After the first repair both virtual ages are q times the age.
    const units = simulated.map(({ repairs }) => ({ repairs: repairs.slice(0, 2), end: repairs[1] ?? 3000 }));
    const [first, second] = MODELS.map((model) =>
      fitted(
        units.filter(({ repairs }) => repairs.length > 1),
        model,
      ),
    );
    expect({ ...second, model: "I" }).toEqual(first);
  });
});

describe("degreeOfRepair tells", () => {
  it("as good as new where gaps grow from repair to repair, with no limit at 0", () => {
    const units = [0, 1, 2, 3, 4, 5, 6, 7].map((unit) => {
      const gaps = [900, 1000, 1150, 1250, 1400].map((gap, at) => gap + 40 * ((3 * unit + 5 * at) % 8));
      return { repairs: gaps.map((_, at) => gaps.slice(0, at + 1).reduce((sum, gap) => sum + gap, 0)), end: 8000 };
    });
    const found = fitted(units);
    expect(found.q).toMatchObject({ estimate: 0, low: 0, atBoundary: "new" });
    expect(found.q.high).toBeGreaterThan(0);
    expect(found.tests.new).toMatchObject({ statistic: 0, p: 1 });
    expect(found.tests.before.p).toBeLessThan(1e-6);
    expect(found).toMatchObject({ risesPastBefore: false, standardErrors: { q: null } });
    expect(found.slopeAtBefore).toBeLessThan(0);
  });

  it("all degrees alike where failures come by chance at any age", () => {
    const found = fitted(drawnUnits({ seed: 4, units: 60, degree: 0.5, shape: 1, scale: 4000 }));
    expect([found.q.low, found.q.high]).toEqual([0, 1]);
  });

  it("which model is clearly better, and only then", () => {
    // Twice the difference: 5.4 in the 207 failures of model I (both log-likelihoods by SciPy, reference-degrees.csv); 0 where both are at 1
    const found = compareRepairModels(historiesOf(simulated), { level: 0.95 });
    expectAgreement(found.difference, -1742.01480186 + 1744.7334816, { abs: 1e-6 });
    expect(found.better).toBe("I");
    const seats = publishedUnits(new PublishedCase("15b_kijima_valve_seats"));
    expect(compareRepairModels(historiesOf(seats), { level: 0.95 })).toMatchObject({ difference: 0, better: null });
    const few = compareRepairModels(historiesOf([{ repairs: [5, 9], end: 12 }]), { level: 0.95 });
    expect(few).toMatchObject({
      difference: null,
      better: null,
      first: { converged: false },
      second: { converged: false },
    });
  });

  it("a sensitivity below 30 repairs", () => {
    expect(fitted(together)).toMatchObject({ repairs: 11, isSensitivity: true });
    const thirty = simulated.slice(0, 5).map(({ repairs }) => ({ repairs: repairs.slice(0, 6), end: 20000 }));
    const many = thirty.reduce((sum, { repairs }) => sum + repairs.length, 0);
    expect(fitted(thirty)).toMatchObject({ repairs: many, isSensitivity: many < 30 });
    expect(fitted(simulated)).toMatchObject({ repairs: 207, isSensitivity: false });
  });
});

describe("degreeOfRepair takes histories as they come:", () => {
  const found = fitted(simulated);

  it("leaves out units of unknown past and those never watched, and counts them", () => {
    const more = [
      ...simulated,
      { repairs: [10, 20, 4000], end: 4100, fromNew: false },
      { repairs: [90], end: 99, entry: 99 },
    ];
    expect(fitted(more)).toEqual({ ...found, leftOut: { unknownPast: 1, notWatched: 1 } });
  });

  it("takes repairs of a unit at one age as one, after a failure if one of them was", () => {
    const doubled = simulated.map(({ repairs, end }) => ({ repairs: repairs.flatMap((age) => [-age, age]), end }));
    expect(fitted(doubled)).toEqual({ ...found, merged: 207 });
    const atStart = simulated.map(({ repairs, end }) => ({ repairs: [0, ...repairs], end }));
    expect(fitted(atStart)).toEqual({ ...found, merged: 30 });
  });

  it("takes repairs up to the entry for the virtual age alone", () => {
    const late = simulated.map(({ repairs, end }) => ({ repairs, end, entry: repairs[1] ?? 0 }));
    const watched = late.reduce((sum, { repairs, entry }) => sum + repairs.filter((age) => age > entry).length, 0);
    expect(fitted(late)).toMatchObject({ repairs: watched, failures: watched });
  });

  it("does not mind the order of rows or the numbers of units", () => {
    const { unit, time, failed, entry, end, fromNew } = historiesOf(simulated);
    const turned: RepairHistories = {
      unit: unit.map((one) => end.length - 1 - one).reverse(),
      time: time.toReversed(),
      failed: failed!.toReversed(),
      entry: entry.toReversed(),
      end: end.toReversed(),
      fromNew: fromNew.toReversed(),
    };
    const other = degreeOfRepair(turned, { model: "I", level: 0.95 });
    if (!other.converged) throw new Error(other.reason);
    expectAgreement(other.q.estimate, found.q.estimate, { rel: 1e-9 });
    expectAgreement(other.q.high, found.q.high, { rel: 1e-8 });
    expectAgreement(other.shape.low, found.shape.low!, { rel: 1e-8 });
  });

  it.each([
    { factor: 1e9, model: "I" },
    { factor: 1e-9, model: "I" },
    { factor: 1e9, model: "II" },
    { factor: 1e-9, model: "II" },
  ] as const)("gives the same in units $factor times as small (model $model)", ({ factor, model }) => {
    const units = simulated.map(({ repairs, end }) => ({
      repairs: repairs.map((age) => age * factor),
      end: end * factor,
    }));
    const [here, there] = [fitted(simulated, model), fitted(units, model)];
    for (const part of ["estimate", "low", "high"] as const) {
      expectAgreement(there.q[part], here.q[part], { rel: 1e-8 });
      expectAgreement(there.shape[part], here.shape[part]!, { rel: 1e-8 });
      expectAgreement(there.scale[part]! / factor, here.scale[part]!, { rel: 1e-8 });
    }
    // A density has the unit of 1 / time: each of 207 failures loses log(factor).
    expectAgreement(there.logLikelihood + 207 * Math.log(factor), here.logLikelihood, { abs: 1e-7 });
  });

  it("fits one unit, one that fails again at once, and one of the handbook's", () => {
    const one = fitted([{ repairs: [700, 1300, 1700, 2100, 2300], end: 2500 }]);
    expect(one).toMatchObject({ units: 1, isSensitivity: true });
    expectSound(
      degreeOfRepair(historiesOf([{ repairs: [700, 700 + 1e-9, 1700, 2100], end: 2500 }]), {
        model: "II",
        level: 0.95,
      }),
    );
    const handbook = new PublishedCase("05_nist_repairable");
    const ages = [...handbook.numbers("hours")].filter((_, row) => handbook.flags("event")[row] === 1);
    expectSound(degreeOfRepair(historiesOf([{ repairs: ages, end: 1500 }]), { model: "I", level: 0.95 }));
  });

  it("gives narrower limits at a lower level", () => {
    const lower = fitted(simulated, "I", 0.5);
    expect(lower.q.low).toBeGreaterThan(found.q.low);
    expect(lower.q.high).toBeLessThan(found.q.high);
    // Half the 50 % quantile of chi-square with 1 degree, 0.454936, is the drop of the log-likelihood at each limit (standard tables).
    expectAgreement(lower.q.high - lower.q.low, 2 * 0.67449 * 0.0702750877079, { rel: 0.05 });
  });
});

const NO_SHAPE = /^the likelihood rises without end as the shape grows or falls/;

describe("degreeOfRepair says why there is none:", () => {
  it.each<{ what: string; units: UnitOf[]; reason: string | RegExp }>([
    { what: "no units", units: [], reason: "no unit was watched for any time" },
    {
      what: "units never watched",
      units: [{ repairs: [3], end: 5, entry: 5 }],
      reason: "no unit was watched for any time",
    },
    {
      what: "no known past",
      units: [{ repairs: [3, 5, 7, 8], end: 9, fromNew: false }],
      reason: "no unit has a past known since it was new",
    },
    { what: "no repairs", units: [{ repairs: [], end: 9 }], reason: "there are no repairs" },
    {
      what: "no failures",
      units: [{ repairs: [-3, -5, -7], end: 9 }],
      reason: "there are no failures: every repair came before one",
    },
    { what: "one repair", units: [{ repairs: [3], end: 9 }], reason: "no unit failed again after a repair" },
    {
      what: "first failures alone",
      units: [3, 4, 5, 6].map((age) => ({ repairs: [age], end: 9 })),
      reason: "no unit failed again after a repair",
    },
    {
      what: "failures only at the age at which watching began",
      units: [{ repairs: [3, 5], end: 9, entry: 5 }],
      reason: "there are no repairs",
    },
    {
      what: "two failures",
      units: [{ repairs: [3, 5], end: 9 }],
      reason: "there are only 2 failures; shape, scale and degree of repair need 3",
    },
    {
      what: "gaps all of one length",
      units: [1, 2, 3].map(() => ({ repairs: [10, 20, 30], end: 30 })),
      reason: NO_SHAPE,
    },
    {
      // At q = 0.4 every failure comes at virtual age 10.
      what: "gaps that one degree makes alike",
      units: [1, 2, 3].map(() => ({ repairs: [10, 16], end: 16 })),
      reason: NO_SHAPE,
    },
    {
      // At q = 1 / 3 every failure comes at virtual age 9.
      what: "and one between those tried first",
      units: [1, 2, 3].map(() => ({ repairs: [9, 15], end: 15 })),
      reason: NO_SHAPE,
    },
  ])("$what", ({ units, reason }) => {
    for (const model of MODELS) {
      const found = degreeOfRepair(historiesOf(units), { model, level: 0.95 });
      if (found.converged) throw new Error("converged");
      expect(found.model).toBe(model);
      expect(found.reason).toMatch(typeof reason === "string" ? new RegExp(`^${reason}$`) : reason);
    }
  });

  it.each<{ what: string; change: Partial<RepairHistories>; says: RegExp }>([
    { what: "columns of unequal length", change: { time: Float64Array.of(1) }, says: /columns differ in length/ },
    { what: "marks missing", change: { failed: Uint8Array.of(1) }, says: /columns differ in length/ },
    { what: "units without a mark", change: { fromNew: new Uint8Array(0) }, says: /units differ in number/ },
    { what: "a unit that is not there", change: { unit: Int32Array.of(0, 7) }, says: /there is no unit 7/ },
    {
      what: "a repair after the end",
      change: { time: Float64Array.of(3, 10) },
      says: /at 10 lies outside the life of unit 0/,
    },
    { what: "an age that is none", change: { time: Float64Array.of(3, Number.NaN) }, says: /at NaN lies outside/ },
    {
      what: "an end before the entry",
      change: { entry: Float64Array.of(10) },
      says: /unit 0 enters at 10 and ends at 9/,
    },
    { what: "an endless unit", change: { end: Float64Array.of(Number.POSITIVE_INFINITY) }, says: /ends at Infinity/ },
  ])("refuses $what", ({ change, says }) => {
    const histories = { ...historiesOf([{ repairs: [3, 5], end: 9 }]), ...change };
    expect(() => degreeOfRepair(histories, { model: "I", level: 0.95 })).toThrow(says);
  });

  it("refuses a level out of range", () => {
    expect(() => degreeOfRepair(historiesOf(together), { model: "I", level: 1 })).toThrow(/level must lie in/);
  });
});

/** An answer that can be shown: a reason, or figures in order and none that is no number. */
function expectSound(found: DegreeOfRepair): void {
  expect(JSON.stringify(found)).not.toMatch(/NaN|undefined/);
  if (!found.converged) {
    expect(found.reason).not.toBe("");
    return;
  }
  const { q, shape, scale, tests, logLikelihood, standardErrors } = found;
  expect(0 <= q.low && q.low <= q.estimate && q.estimate <= q.high && q.high <= 1).toBe(true);
  for (const { estimate, low, high } of [shape, scale]) {
    expect(Number.isFinite(estimate) && estimate > 0).toBe(true);
    expect((low ?? 0) <= estimate && estimate <= (high ?? Number.MAX_VALUE)).toBe(true);
  }
  for (const test of [tests.new, tests.before]) {
    expect(test.statistic >= 0 && test.p >= 0 && test.p <= 1 && logLikelihood >= test.logLikelihood).toBe(true);
  }
  expect(Number.isFinite(standardErrors.logShape) && Number.isFinite(standardErrors.logScale)).toBe(true);
}

const anyUnit = fc.record({
  gaps: fc.array(fc.oneof(fc.integer({ min: 0, max: 9 }), fc.double({ min: 1e-9, max: 1e6, noNaN: true })), {
    maxLength: 6,
  }),
  rest: fc.integer({ min: 0, max: 9 }),
  planned: fc.boolean(),
  entry: fc.double({ min: 0, max: 1, noNaN: true }),
  isLate: fc.boolean(),
});

describe("degreeOfRepair of anything", () => {
  it.each(MODELS)("is a sound answer (model %s)", (model) => {
    let fits = 0;
    fc.assert(
      fc.property(fc.array(anyUnit, { minLength: 1, maxLength: 8 }), (drawn) => {
        const units = drawn.map(({ gaps, rest, planned, entry, isLate }): UnitOf => {
          const ages: number[] = [];
          for (const gap of gaps) ages.push((ages.at(-1) ?? 0) + gap);
          const end = (ages.at(-1) ?? 0) + rest;
          return {
            repairs: ages.map((age, at) => (planned && at % 2 === 0 ? -age : age)),
            end,
            entry: isLate ? entry * end : 0,
          };
        });
        const found = degreeOfRepair(historiesOf(units), { model, level: 0.9 });
        if (found.converged) fits++;
        expectSound(found);
      }),
      { seed: 15, numRuns: 250 },
    );
    expect(fits).toBeGreaterThan(60);
  });

  it("recovers the degree from some 20,000 gaps", () => {
    for (const model of MODELS) {
      const units = drawnUnits({
        seed: 5,
        units: 5000,
        degree: 0.4,
        shape: 2.2,
        scale: 4000,
        model,
        until: [6000, 12000],
      });
      const found = fitted(units, model);
      expect(found.repairs).toBeGreaterThan(14000);
      expectAgreement(found.q.estimate, 0.4, { abs: 4 * found.standardErrors.q! });
      expectAgreement(found.shape.estimate, 2.2, { rel: 4 * found.standardErrors.logShape });
      expectAgreement(found.scale.estimate, 4000, { rel: 4 * found.standardErrors.logScale });
    }
  });
});

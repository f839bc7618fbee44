import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { aalenJohansen, type IncidenceStep } from "../../../src/stats/competing/aalen-johansen.ts";
import type { CauseLives } from "../../../src/stats/competing/cause-lives.ts";
import { kaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const mgus = new PublishedCase("10_mgus2");
const delayed = new PublishedCase("08b_delayed_entry");
const options = { causes: 2, level: 0.95, limits: "log-log" } as const;

/** Months to progression (cause 0) or death without it (cause 1). */
function mgusLives(sex?: string): CauseLives {
  const rows = mgus.texts("sex").flatMap((found, row) => (sex === undefined || found === sex ? [row] : []));
  const events = rows.map((row) => mgus.numbers("event")[row]!);
  return {
    time: Float64Array.from(rows, (row) => mgus.numbers("etime")[row]!),
    failed: Uint8Array.from(events, (event) => (event > 0 ? 1 : 0)),
    cause: Int32Array.from(events, (event) => event - 1),
  };
}

function at(steps: IncidenceStep[] | undefined, time: number): IncidenceStep | undefined {
  return steps?.findLast((step) => step.time <= time);
}

describe("aalenJohansen agrees with survfit(Surv(etime, factor(event)) ~ 1) of R's survival on the data of Kyle et al. 2002", () => {
  const { rows, tolerance } = mgus.table("cif_overall");
  const overall = aalenJohansen(mgusLives(), options);
  it.each(rows)("at $time months; Aalen's error with cuminc() of R's cmprsk", (row) => {
    for (const [cause, name] of ["pcm", "death"].entries()) {
      const step = at(overall[cause], row["time"]!);
      expectAgreement(step?.incidence, row[`cif_${name}`]!, tolerance, name);
      expectAgreement(step?.se, row[`se_ij_${name}`]!, tolerance, `${name} jackknife`);
      expectAgreement(step?.seAalen, row[`se_aalen_${name}`]!, tolerance, `${name} Aalen`);
    }
  });

  it("W-CIF1: 0.06372 and 0.09981 at 120 and 240 months", () => {
    expectAgreement(at(overall[0], 120)?.incidence, 0.06372, { abs: 1e-4 });
    expectAgreement(at(overall[0], 240)?.incidence, 0.09981, { abs: 1e-4 });
  });

  it("by sex", () => {
    const bySex = mgus.table("cif_by_sex");
    expect(bySex.rows.length).toBe(6);
    for (const row of bySex.rows) {
      const steps = aalenJohansen(mgusLives(String(row["sex"])), options);
      for (const [cause, name] of ["pcm", "death"].entries()) {
        const step = at(steps[cause], row["time"]!);
        expectAgreement(step?.incidence, row[`cif_${name}`]!, bySex.tolerance, name);
        expectAgreement(step?.se, row[`se_ij_${name}`]!, bySex.tolerance, name);
      }
    }
  });

  // R 4.2.2, survival 3.5-3: summary(survfit(Surv(etime, factor(event, 0:2)) ~ 1, conf.type = "log-log"), times = 120), and "plain"
  it.each([
    ["log-log", 0, 0.05128167608489764, 0.07793302459596577],
    ["log-log", 1, 0.5038607748220139, 0.5589428988148358],
    ["plain", 0, 0.05040058989377225, 0.0770437461324536],
    ["plain", 1, 0.504261305927215, 0.5593741022332004],
  ] as const)("limits on the %s scale, cause %d", (limits, cause, low, high) => {
    const step = at(aalenJohansen(mgusLives(), { ...options, limits })[cause], 120);
    expectAgreement(step?.low, low, { rel: 1e-10 });
    expectAgreement(step?.high, high, { rel: 1e-10 });
  });
});

describe("aalenJohansen with late entry agrees with survfit(Surv(entry, exit, factor(cause, 0:2)) ~ 1, id = 1:160)", () => {
  // R 4.2.2, survival 3.5-3; cause 2 where failed and the row number is a multiple of 3, else 1; times = 5000, 10000, 20000
  const failed = delayed.flags("failed");
  const cause = Int32Array.from(failed, (flag, row) => (flag === 0 ? -1 : (row + 1) % 3 === 0 ? 1 : 0));
  const lives = { time: delayed.numbers("exit_hours"), failed, entry: delayed.numbers("entry_hours"), cause };
  it.each([
    [5000, 0.07083118138420541, 0.03060068113327033, 0.02693800556299947, 0.01878317743811618],
    [10000, 0.22215600927255014, 0.04721918010367682, 0.08813954430165616, 0.03167380190594389],
    [20000, 0.45665267930232278, 0.05270359503585748, 0.27423540517676959, 0.04764793391283916],
  ])("at %d h", (time, first, seFirst, second, seSecond) => {
    const steps = aalenJohansen(lives, options);
    expectAgreement(at(steps[0], time)?.incidence, first, { rel: 1e-12 });
    expectAgreement(at(steps[0], time)?.se, seFirst, { rel: 1e-12 });
    expectAgreement(at(steps[1], time)?.incidence, second, { rel: 1e-12 });
    expectAgreement(at(steps[1], time)?.se, seSecond, { rel: 1e-12 });
  });
});

const life = fc.record({
  time: fc.integer({ min: 0, max: 12 }),
  entry: fc.integer({ min: 0, max: 8 }),
  cause: fc.integer({ min: -1, max: 1 }),
  count: fc.integer({ min: 0, max: 3 }),
});
type Row = { time: number; entry: number; cause: number; count: number };

function rowsAsLives(rows: Row[], late: boolean, unit = 1): CauseLives {
  return {
    time: Float64Array.from(rows, ({ time, entry }) => (late ? Math.max(time, entry + 1) : time) * unit),
    failed: Uint8Array.from(rows, ({ cause }) => (cause >= 0 ? 1 : 0)),
    cause: Int32Array.from(rows, ({ cause }) => cause),
    count: Float64Array.from(rows, ({ count }) => count),
    ...(late && { entry: Float64Array.from(rows, ({ entry }) => entry * unit) }),
  };
}

describe("aalenJohansen", () => {
  it("adds up to 1 with the survival of all causes, and holds numbers only", () => {
    fc.assert(
      fc.property(fc.array(life, { maxLength: 40 }), fc.boolean(), (rows, late) => {
        const lives = rowsAsLives(rows, late);
        const [first = [], second = []] = aalenJohansen(lives, options);
        const sums = kaplanMeier(lives, { level: 0.95, limits: "plain" }).map(
          ({ survival }, age) => survival + first[age]!.incidence + second[age]!.incidence,
        );
        expect(first.length).toBe(sums.length);
        expect(sums.every((sum) => Math.abs(sum - 1) <= 1e-12)).toBe(true);
        const numbers = [...first, ...second].flatMap(({ se, seAalen, low, high }) => [
          se,
          seAalen,
          low ?? 0,
          high ?? 0,
        ]);
        expect(numbers.every((number) => number >= 0 && number < Number.POSITIVE_INFINITY)).toBe(true);
      }),
      { numRuns: 200, seed: 20261126 },
    );
  });

  it("is 1 - Kaplan-Meier with Greenwood's error where there is one cause and no late entry", () => {
    const oneCause = fc.array(
      life.map((row) => ({ ...row, cause: Math.min(0, row.cause) })),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(oneCause, (rows) => {
        const lives = rowsAsLives(rows, false);
        const [only = []] = aalenJohansen(lives, { ...options, causes: 1 });
        const curve = kaplanMeier(lives, { level: 0.95, limits: "plain" });
        const far = curve.map(({ survival, se }, age) => [
          Math.abs(only[age]!.incidence - (1 - survival)),
          Math.abs(only[age]!.se - (se ?? 0)),
        ]);
        expect(far.every(([incidence, se]) => incidence! <= 1e-12 && se! <= 1e-7)).toBe(true);
      }),
      { numRuns: 200, seed: 20261126 },
    );
  });

  it("is the same whether lives are repeated or counted, in any order and unit", () => {
    const numbers = (lives: CauseLives) =>
      aalenJohansen(lives, options).flatMap((steps) =>
        steps.flatMap(({ incidence, se, seAalen }) => [incidence, se, seAalen]),
      );
    fc.assert(
      fc.property(fc.array(life, { maxLength: 30 }), fc.boolean(), (rows, late) => {
        const counted = numbers(rowsAsLives(rows, late));
        const repeated = rows.flatMap((row) => Array<Row>(row.count).fill({ ...row, count: 1 }));
        for (const other of [rowsAsLives(repeated, late), rowsAsLives(rows.toReversed(), late, 1e-6 * Math.PI)]) {
          const found = numbers(other);
          expect(found.length).toBe(counted.length);
          expect(found.every((number, at) => Math.abs(number - counted[at]!) <= 1e-7)).toBe(true);
        }
      }),
      { numRuns: 100, seed: 20261126 },
    );
  });

  it("starts where enough are at risk, as lives watched from there", () => {
    const lives = {
      time: Float64Array.of(2, 9, 9, 9, 9),
      failed: Uint8Array.of(1, 1, 0, 1, 0),
      cause: Int32Array.of(0, 0, -1, 1, -1),
      entry: Float64Array.of(1, 3, 4, 5, 6),
    };
    expect(aalenJohansen(lives, options)[0]?.[0]).toMatchObject({ time: 2, incidence: 1, low: null });
    const steps = aalenJohansen(lives, { ...options, minimumAtRisk: 4 });
    expect(steps.map(([step]) => step?.incidence)).toEqual([0.25, 0.25]);
    expect(aalenJohansen(lives, { ...options, minimumAtRisk: 5 })).toEqual([[], []]);
  });

  it("handles no lives, no failures, a single failure, zero times, and a cause of none", () => {
    expect(aalenJohansen(rowsAsLives([], false), options)).toEqual([[], []]);
    const running = aalenJohansen(rowsAsLives([{ time: 3, entry: 0, cause: -1, count: 2 }], false), options);
    expect(running[0]).toEqual([
      { time: 3, atRisk: 2, failed: 0, incidence: 0, se: 0, seAalen: 0, low: null, high: null },
    ]);
    const one = aalenJohansen(rowsAsLives([{ time: 0, entry: 0, cause: 1, count: 1 }], false), options);
    expect(one[1]?.[0]).toMatchObject({ time: 0, incidence: 1, low: null, high: null });
    expect(one[0]?.[0]).toMatchObject({ incidence: 0, se: 0, low: null });
  });

  it("refuses causes that do not fit the lives", () => {
    const lives = { time: Float64Array.of(1, 2), failed: Uint8Array.of(1, 0) };
    const refused = (cause: Int32Array) => () => aalenJohansen({ ...lives, cause }, options);
    expect(refused(Int32Array.of(2, -1))).toThrow("life 0 (counted from 0) failed and its cause is 2, of 2");
    expect(refused(Int32Array.of(-1, -1))).toThrow("life 0");
    expect(refused(Int32Array.of(0, 0))).toThrow("life 1 (counted from 0) did not fail and its cause is 0");
    expect(refused(Int32Array.of(0))).toThrow("cause has 1 values, expected 2");
    expect(() => aalenJohansen({ ...lives, cause: Int32Array.of(0, -1) }, { ...options, level: 0 })).toThrow(
      RangeError,
    );
  });
});

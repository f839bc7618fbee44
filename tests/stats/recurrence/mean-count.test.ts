import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { meanCumulativeFunction } from "../../../src/stats/recurrence/mean-count.ts";
import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { expectAgreement } from "../../agree.ts";
import { seats, valveSeats } from "./recurrent-cases.ts";

describe("meanCumulativeFunction agrees on valve seats of 41 engines (Nelson & Doganaksoy 1989)", () => {
  const steps = meanCumulativeFunction(valveSeats(), { level: 0.95 });
  const { rows, tolerance } = seats.table("mcf");

  it("in the estimate, the number under observation and both standard errors at all 46 ages", () => {
    expect(steps).toHaveLength(46);
    for (const [at, row] of rows.entries()) {
      const step = steps[at]!;
      expect([step.time, step.underObservation, step.events]).toEqual([row["age"], row["at_risk"], row["events"]]);
      expectAgreement(step.estimate, row["mcf"]!, tolerance, `estimate at ${step.time}`);
      expectAgreement(step.se, row["robust_se"]!, tolerance, `robust error at ${step.time}`);
      expectAgreement(step.seNelson, row["nelson_se"]!, tolerance, `Nelson's error at ${step.time}`);
    }
  });

  it("W-MCF1: with the figures recomputed two ways", () => {
    const expected = [
      [61, 41, 0.02439, 0.024091],
      [139, 41, 0.219512, 0.07327],
      [404, 40, 0.683537, 0.135939],
      [581, 38, 0.984852, 0.171204],
      [604, 22, 1.059719, 0.185061],
      [646, 13, 1.320465, 0.228505],
      [653, 9, 1.542688, 0.311656],
    ] as const;
    for (const [time, underObservation, estimate, se] of expected) {
      const step = steps.find((one) => one.time === time);
      expect(step?.underObservation).toBe(underObservation);
      expectAgreement(step?.estimate, estimate, { abs: 1e-6 });
      expectAgreement(step?.se, se, { abs: 1e-6 });
    }
  });

  it("takes its limits from the robust error on the log scale: M exp(-+ 1.959964 se / M)", () => {
    for (const { estimate, se, low, high } of steps) {
      expectAgreement(low, estimate * Math.exp((-1.959963984540054 * se) / estimate), { rel: 1e-12 });
      expectAgreement(high, estimate * Math.exp((1.959963984540054 * se) / estimate), { rel: 1e-12 });
    }
  });
});

/** The definitions, unit by unit and age by age: slow and plain. */
function byDefinition({ unit, time, entry, end }: RecurrentEvents) {
  const ages = [...new Set(time)].sort((a, b) => a - b);
  const units = Array.from(end.keys());
  const watched = (one: number, age: number) => (entry[one]! < age && age <= end[one]! ? 1 : 0);
  const count = (one: number, age: number) =>
    time.reduce((sum, at, row) => sum + (at === age && unit[row] === one ? 1 : 0), 0);
  const size = ages.map((age) => units.reduce((sum, one) => sum + watched(one, age), 0));
  const mean = ages.map((age, at) => units.reduce((sum, one) => sum + count(one, age), 0) / size[at]!);
  return ages.map((age, last) => {
    const parts = units.map((one) =>
      ages
        .slice(0, last + 1)
        .reduce((sum, at, k) => sum + (watched(one, at) * (count(one, at) - mean[k]!)) / size[k]!, 0),
    );
    let nelson = 0;
    for (let l = 0; l <= last; l++) {
      for (let k = 0; k <= l; k++) {
        const products = units.reduce(
          (sum, one) => sum + watched(one, ages[l]!) * count(one, ages[k]!) * (count(one, ages[l]!) - mean[l]!),
          0,
        );
        nelson += ((k < l ? 2 : 1) * products) / ((size[l]! - 1) * size[k]!);
      }
    }
    return {
      time: age,
      estimate: mean.slice(0, last + 1).reduce((sum, part) => sum + part, 0),
      variance: parts.reduce((sum, part) => sum + part * part, 0),
      nelson,
    };
  });
}

const histories = fc
  .array(
    fc.record({
      entry: fc.integer({ min: 0, max: 20 }),
      length: fc.integer({ min: 1, max: 30 }),
      at: fc.array(fc.double({ min: 0.001, max: 1, noNaN: true }), { maxLength: 5 }),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((units): RecurrentEvents => {
    const events = units.flatMap(({ entry, length, at }, one) =>
      at.map((part) => ({ one, age: entry + Math.ceil(part * length) })),
    );
    return {
      unit: Int32Array.from(events, ({ one }) => one),
      time: Float64Array.from(events, ({ age }) => age),
      entry: Float64Array.from(units, ({ entry }) => entry),
      end: Float64Array.from(units, ({ entry, length }) => entry + length),
    };
  });

describe("meanCumulativeFunction", () => {
  it("equals its definition under staggered entry and exit", () => {
    fc.assert(
      fc.property(histories, (events) => {
        const steps = meanCumulativeFunction(events, { level: 0.9 });
        const expected = byDefinition(events);
        expect(steps.map(({ time }) => time)).toEqual(expected.map(({ time }) => time));
        for (const [at, { estimate, variance, nelson }] of expected.entries()) {
          expectAgreement(steps[at]!.estimate, estimate, { abs: 1e-9 });
          expectAgreement(steps[at]!.se ** 2, variance, { abs: 1e-9 });
          if (steps[at]!.seNelson !== null) expectAgreement(steps[at]!.seNelson ** 2, nelson, { abs: 1e-9 });
        }
      }),
      { seed: 20, numRuns: 300 },
    );
  });

  it("has no limits and no Nelson's error from one unit alone", () => {
    const one = {
      unit: Int32Array.of(0, 0),
      time: Float64Array.of(3, 8),
      entry: Float64Array.of(0),
      end: Float64Array.of(9),
    };
    expect(meanCumulativeFunction(one, { level: 0.95 })).toEqual([
      { time: 3, underObservation: 1, events: 1, estimate: 1, se: 0, seNelson: null, low: null, high: null },
      { time: 8, underObservation: 1, events: 1, estimate: 2, se: 0, seNelson: null, low: null, high: null },
    ]);
  });

  it("gives no steps where nothing happened", () => {
    const quiet = {
      unit: new Int32Array(0),
      time: new Float64Array(0),
      entry: Float64Array.of(0),
      end: Float64Array.of(9),
    };
    expect(meanCumulativeFunction(quiet, { level: 0.95 })).toEqual([]);
  });

  it("refuses events of unknown units or outside the observation", () => {
    const events = {
      unit: Int32Array.of(0),
      time: Float64Array.of(5),
      entry: Float64Array.of(5),
      end: Float64Array.of(9),
    };
    expect(() => meanCumulativeFunction(events, { level: 0.95 })).toThrow(
      "the one at 5 lies outside the observation of unit 0",
    );
    expect(() => meanCumulativeFunction({ ...events, unit: Int32Array.of(3) }, { level: 0.95 })).toThrow("unit 3");
    expect(() => meanCumulativeFunction({ ...events, end: Float64Array.of(4) }, { level: 0.95 })).toThrow(
      "enters at 5 and ends at 4",
    );
    expect(() => meanCumulativeFunction({ ...events, time: Float64Array.of(6, 7) }, { level: 0.95 })).toThrow(
      "differ in length",
    );
  });
});

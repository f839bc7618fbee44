import { describe, expect, it } from "vitest";
import {
  type ChartLimits,
  individualsChart,
  MEAN_RANGE_OF_TWO,
} from "../../../src/stats/measurements/individuals-chart.ts";
import { runRules } from "../../../src/stats/measurements/run-rules.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

/** Flow rates of ten batches: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. */
const FLOW = Float64Array.of(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1);

function limitsOf(readings: Float64Array, baseline?: number): ChartLimits {
  const found = individualsChart(readings, baseline);
  if (found.limits === null) throw new Error(found.reason);
  return found.limits;
}

describe("individualsChart", () => {
  it("has the handbook's limits for its flow rates", () => {
    const limits = limitsOf(FLOW);
    expectAgreement(limits.centre, 50.81, { abs: 1e-10 }, "printed 50.81");
    expectAgreement(limits.range.centre, 1.8778, { abs: 5e-5 }, "printed 1.8778");
    // It rounds d2 to 1.128, so that its limits lie 0.002 farther out.
    expectAgreement(limits.high, 55.8041, { abs: 0.002 }, "printed 55.8041");
    expectAgreement(limits.low, 45.8159, { abs: 0.002 }, "printed 45.8159");
    // By hand: 50.81 -+ 3 * (16.9 / 9) / 1.1283792
    expectAgreement(limits.high, 50.81 + (3 * 16.9) / 9 / 1.1283792, { abs: 1e-6 });
    expect(individualsChart(FLOW)).toMatchObject({ ranges: expect.objectContaining({ length: 9 }) });
  });

  it.each([
    { of: "d2", found: MEAN_RANGE_OF_TWO, printed: 1.128 },
    { of: "E2 = 3 / d2", found: (limitsOf(FLOW).high - 50.81) / limitsOf(FLOW).range.centre, printed: 2.659 },
    { of: "D4", found: limitsOf(FLOW).range.high / limitsOf(FLOW).range.centre, printed: 3.267 },
  ])(
    "has $of = $printed of the published tables (D. C. Montgomery, Introduction to Statistical Quality Control, from memory)",
    ({ found, printed }) => {
      expectAgreement(found, printed, { abs: 6e-4 });
    },
  );

  it("takes limits from the first readings where asked", () => {
    const limits = limitsOf(FLOW, 4);
    // By hand: mean of 49.6, 47.6, 49.9, 51.3 is 49.6; ranges 2, 2.3, 1.4
    expectAgreement(limits.centre, 49.6, { abs: 1e-12 });
    expectAgreement(limits.range.centre, 1.9, { abs: 1e-12 });
    const found = individualsChart(FLOW, 4);
    expect(found.limits && found.ranges.length).toBe(9);
  });

  it.each([
    { name: "none", readings: [], reason: "limits take two readings or more" },
    { name: "one", readings: [4], reason: "limits take two readings or more" },
    { name: "all alike", readings: [0.1, 0.1, 0.1], reason: "all readings that limits would come from are alike" },
  ])("gives the reason where there are no limits: $name", ({ readings, reason }) => {
    expect(individualsChart(Float64Array.from(readings))).toEqual({ limits: null, reason });
  });

  it("refuses what are no readings", () => {
    expect(() => individualsChart(Float64Array.of(1, Number.NaN))).toThrow("reading 1 (counted from 0) is NaN");
    expect(() => individualsChart(FLOW, 11)).toThrow("a baseline of 11 readings out of 10");
  });
});

const ONE = "1 beyond 3 sigma";
const TWO = "2 of 3 beyond 2 sigma";
const FOUR = "4 of 5 beyond 1 sigma";
const EIGHT = "8 in a row on one side";

describe("runRules", () => {
  // By hand, from the rules: Western Electric Company, Statistical Quality Control Handbook, 1956
  it.each([
    { readings: "0 3.1 -3.1 0 0 3", breaks: [`${ONE} 1-1 above`, `${ONE} 2-2 below`] },
    { readings: "2.1 0 2.1", breaks: [`${TWO} 0-2 above`] },
    { readings: "2.1 0 0 2.1", breaks: [] },
    { readings: "2.1 -2.1 0", breaks: [] },
    { readings: "2.1 2.1 0", breaks: [`${TWO} 0-1 above`] },
    { readings: "2 2 2", breaks: [] },
    { readings: "-1.1 -1.1 0.5 -1.1 -1.1", breaks: [`${FOUR} 0-4 below`] },
    { readings: "1.1 1.1 1.1 1.1 0", breaks: [`${FOUR} 0-3 above`] },
    { readings: "1.1 1.1 1.1 0 0 1.1", breaks: [] },
    { readings: "1.1 1.1 0 -1.1 1.1 1.1", breaks: [] },
    { readings: ".1 .2 .1 .2 .1 .2 .1", breaks: [] },
    { readings: ".1 .2 .1 .2 .1 .2 .1 .2 .1", breaks: [`${EIGHT} 0-7 above`, `${EIGHT} 1-8 above`] },
    { readings: ".1 .2 .1 .2 0 .2 .1 .2 .1", breaks: [] },
    { readings: ".1 .2 .1 -.2 .1 .2 .1 .2 .1", breaks: [] },
    {
      readings: "-.5 -1.5 -1.5 -.5 -1.5 -1.5 -2.5 -3.5",
      breaks: [
        `${FOUR} 1-5 below`,
        `${FOUR} 2-6 below`,
        `${ONE} 7-7 below`,
        `${TWO} 6-7 below`,
        `${FOUR} 4-7 below`,
        `${EIGHT} 0-7 below`,
      ],
    },
    { readings: "", breaks: [] },
  ])("$readings: $breaks", ({ readings, breaks }) => {
    const off = readings
      .split(" ")
      .filter((text) => text !== "")
      .map(Number);
    for (const { centre, sigma } of [
      { centre: 0, sigma: 1 },
      { centre: 8, sigma: 0.25 },
    ]) {
      const found = runRules(
        Float64Array.from(off, (value) => centre + sigma * value),
        { centre, sigma },
      );
      expect(found.map(({ rule, from, at, side }) => `${rule} ${from}-${at} ${side}`)).toEqual(breaks);
    }
  });

  it("is broken by undisturbed normal readings once in about 92", () => {
    // C. W. Champ & W. H. Woodall, Technometrics 29 (1987) 393-399: mean run 91.75 with all four rules (from memory)
    const runs = 1000;
    let readings = 0;
    for (let run = 0; run < runs; run++) {
      const stream = streamOf(5, run);
      const taken: number[] = [];
      for (let broken = false; !broken; ) {
        taken.push(Math.sqrt(-2 * Math.log(1 - stream.uniform())) * Math.cos(2 * Math.PI * stream.uniform()));
        const recent = Float64Array.from(taken.slice(-8));
        broken = runRules(recent, { centre: 0, sigma: 1 }).some(({ at }) => at === recent.length - 1);
      }
      readings += taken.length;
    }
    // runs are nearly geometric: standard error about 91.75 / sqrt(1000) = 2.9
    expectAgreement(readings / runs, 91.75, { abs: 8.7 });
  });

  it("refuses limits and readings that are none", () => {
    expect(() => runRules(Float64Array.of(1), { centre: 0, sigma: 0 })).toThrow("found centre 0 and sigma 0");
    expect(() => runRules(Float64Array.of(1), { centre: Number.NaN, sigma: 1 })).toThrow(RangeError);
    expect(() => runRules(Float64Array.of(1, Number.POSITIVE_INFINITY), { centre: 0, sigma: 1 })).toThrow(
      "reading 1 (counted from 0)",
    );
  });
});

import { describe, expect, it } from "vitest";
import { type LogChance, offenderChance, ordinaryChance } from "../../../src/stats/offenders/count-chances.ts";
import { crossedGraph } from "../../../src/stats/offenders/crossed-graph.ts";
import { crossedMode } from "../../../src/stats/offenders/crossed-mode.ts";
import { crossedSlope } from "../../../src/stats/offenders/crossed-slope.ts";
import { groupsAt, mixtureLogLikelihood, mixtureSlope } from "../../../src/stats/offenders/mixture.ts";
import { effectSdAt, logSdSlopeAt } from "../../../src/stats/offenders/normal-spread.ts";
import { byDifferences, quasiNewton } from "../../../src/stats/offenders/quasi-newton.ts";
import { nextSum } from "../../../src/stats/offenders/renewal-counts.ts";
import { sparsePattern } from "../../../src/stats/offenders/sparse-pattern.ts";
import { expectAgreement } from "../../agree.ts";
import { rotatingFleet } from "./simulation/rotating-fleet.ts";

/** Central difference. */
function differenceOf(of: (by: number) => number, step = 1e-5): number {
  return (of(step) - of(-step)) / (2 * step);
}

describe("slopes of chances", () => {
  const laws: [string, (own: number) => LogChance][] = [
    ["ordinary", ordinaryChance],
    ["offender", offenderChance],
  ];

  it.each(laws)("of an %s entity's count are its differences", (_, lawOf) => {
    const slopes = { byExpected: Number.NaN, byOwn: Number.NaN };
    for (const own of [0.03, 0.4, 3, 20]) {
      for (const [events, expected] of [
        [0, 0.2],
        [3, 2.5],
        [40, 9],
        [7, 55],
        [1200, 700],
        [1500, 1490],
      ] as const) {
        const what = `${own}: ${events} of ${expected}`;
        lawOf(own)(events, expected, slopes);
        const byExpected = differenceOf((by) => lawOf(own)(events, expected * Math.exp(by)));
        const byOwn = differenceOf((by) => lawOf(own * Math.exp(by))(events, expected));
        const abs = 1e-6 * (1 + events + expected);
        expectAgreement(slopes.byExpected, byExpected, { abs, rel: 1e-5 }, what);
        expectAgreement(slopes.byOwn, byOwn, { abs, rel: 1e-5 }, what);
      }
    }
  });
});

describe("mixtureSlope", () => {
  const counts = {
    events: Float64Array.of(3, 2, 0, 14, 4, 9, 1),
    exposure: Float64Array.of(3, 2.2, 1.5, 3, 4.1, 2, 0.4),
    weight: Float64Array.of(1, 3, 2, 1, 1, 2, 5),
  };

  it.each([
    { at: [0.1, -2, 0.3, -0.4], given: undefined },
    { at: [-0.4, 1.5, -1, 2], given: undefined },
    { at: [0.2, -3, 0.5], given: 0.3 },
  ])("is that of the log-likelihood at $at, spread given: $given", ({ at, given }) => {
    const slope = mixtureSlope(counts, at, given);
    expect(slope.length).toBe(at.length);
    for (const [axis, value] of slope.entries()) {
      const moved = (by: number) => at.map((own, other) => (other === axis ? own + by : own));
      const difference = differenceOf((by) => mixtureLogLikelihood(counts, groupsAt(moved(by), given)));
      expectAgreement(value, difference, { abs: 1e-7, rel: 1e-7 }, `axis ${axis}`);
    }
  });
});

describe("crossedSlope", () => {
  it.each([
    [0, 0],
    [-2, 1.5],
    [3, -1],
  ])("is that of Laplace's approximation at spreads %s and %s", (unit, position) => {
    const { cells } = rotatingFleet(5, 0, { positions: 12, units: 30, periods: 8, mean: 2 });
    const graph = crossedGraph(cells);
    const pattern = sparsePattern(graph.neighbours, 1e7)!;
    const sdAt = ([x = 0, y = 0]: number[]) =>
      new Float64Array(graph.points).fill(effectSdAt(x), 0, graph.unitPoints).fill(effectSdAt(y), graph.unitPoints);
    const from = { level: 0, effect: new Float64Array(graph.points) };
    const modeAt = (at: number[]) => crossedMode(cells, graph, pattern, { sd: sdAt(at) }, from)!;
    const at = [unit, position];
    const slope = crossedSlope(graph, sdAt(at), modeAt(at));
    const byUnit = differenceOf((by) => modeAt([unit + by, position]).marginal, 1e-4);
    const byPosition = differenceOf((by) => modeAt([unit, position + by]).marginal, 1e-4);
    expectAgreement(slope.unit * logSdSlopeAt(unit), byUnit, { abs: 1e-5, rel: 1e-5 });
    expectAgreement(slope.position * logSdSlopeAt(position), byPosition, { abs: 1e-5, rel: 1e-5 });
  });
});

describe("quasiNewton", () => {
  it("finds one top by slopes and by their differences", () => {
    const hill = ([x = 0, y = 0]: number[]) => -((x - 1) ** 2) - 3 * (y + 0.5 - 0.2 * x) ** 2 - 0.1 * (x - 1) ** 4;
    const slope = ([x = 0, y = 0]: number[]) => {
      const across = y + 0.5 - 0.2 * x;
      return [-2 * (x - 1) + 1.2 * across - 0.4 * (x - 1) ** 3, -6 * across];
    };
    const bySlope = quasiNewton((at) => ({ value: hill(at), slope: () => slope(at) }), [0, 0]);
    const byDifference = quasiNewton(byDifferences(hill), [0, 0]);
    for (const { at, settled } of [bySlope, byDifference]) {
      expect(settled).toBe(true);
      expectAgreement(at[0], 1, { abs: 1e-3 });
      expectAgreement(at[1], -0.3, { abs: 1e-3 });
    }
  });
});

describe("nextSum", () => {
  it.each([2, 3, 4, 5, 6, 9, 40])("adds every pair once, of %s points", (size) => {
    const last = Float64Array.from({ length: size }, (_, at) => 1 - Math.exp(-0.3 * at));
    const gains = Float64Array.from({ length: size }, (_, at) => (at === 0 ? 0 : 1 / (at + 2)));
    const plain = last.map((_, to) => {
      let sum = 0;
      for (let at = 1; at <= to; at++) sum += (gains[at]! * (last[to - at]! + last[to - at + 1]!)) / 2;
      return sum;
    });
    const found = nextSum(gains, last);
    expect(found.length).toBe(size);
    for (const [at, value] of found.entries()) expectAgreement(value, plain[at]!, { rel: 1e-14 });
  });
});

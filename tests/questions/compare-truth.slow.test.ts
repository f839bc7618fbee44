import { describe, expect, it } from "vitest";
import { emptyBasis } from "../../src/questions/basis.ts";
import { type Adjusted, adjustedBy } from "../../src/questions/compare-adjusted.ts";
import { casesOf } from "../../src/questions/compare-cases.ts";
import type { ComparedLives, Known } from "../../src/questions/compare-lives.ts";
import type { CompareQuestion } from "../../src/questions/scope.ts";
import { type Stream, streamOf } from "../../src/stats/random/stream.ts";

// Lives with a declared truth, made for these tests; seeds and numbers were fixed before the first run.
const SEED = 20_261_126;
const SHAPE = 1.7;

function normal(random: Stream): number {
  return Math.sqrt(-2 * Math.log(1 - random.uniform())) * Math.cos(2 * Math.PI * random.uniform());
}

type Build = { logScale: number; known: number[] };

/** Each unit has an effect of its own on log life, of standard deviation 0.4, and several builds of which a third or so are followed unfailed. */
function simulated(random: Stream, units: number, builds: number, drawn: (unit: number) => Build) {
  const rows = Array.from({ length: units }, (_, unit) => {
    const own = 0.4 * normal(random);
    return Array.from({ length: builds }, () => {
      const { logScale, known } = drawn(unit);
      const life = Math.exp(logScale + own) * (-Math.log(1 - random.uniform())) ** (1 / SHAPE);
      const followed = 9000 * (0.5 + 1.2 * random.uniform());
      return { unit, known, time: Math.min(life, followed), failed: life <= followed };
    });
  }).flat();
  return {
    failed: Uint8Array.from(rows, ({ failed }) => Number(failed)),
    column: (at: number) => Float64Array.from(rows, ({ known }) => known[at]!),
    lives: {
      low: Float64Array.from(rows, ({ time }) => time),
      high: Float64Array.from(rows, ({ time, failed }) => (failed ? time : Number.POSITIVE_INFINITY)),
    },
    unit: Int32Array.from(rows, ({ unit }) => unit),
  };
}

function levels(name: string, words: string[], codes: Float64Array): Known {
  return { name, kind: "levels", words, codes: Int32Array.from(codes) };
}

function answered(
  { lives, unit, failed }: ReturnType<typeof simulated>,
  effect: Known,
  others: Known[],
  more: Partial<CompareQuestion> = {},
): Adjusted["said"] {
  const found: ComparedLives = {
    basis: emptyBasis(),
    lives,
    unknown: new Uint8Array(unit.length),
    unit,
    place: new Int32Array(unit.length).fill(-1),
    effect,
    others,
    watchedDays: null,
  };
  const question: CompareQuestion = {
    by: [],
    clock: "hours",
    level: 0.95,
    effect: effect.name,
    model: "aft",
    straight: false,
    matters: 1.15,
    seed: 1,
    ...more,
  };
  return adjustedBy(found, casesOf(effect, others, failed), question, {
    unit: null,
    window: null,
  }).said;
}

const REPLICATIONS = 1000;

describe.each([40, 120])("lube and site go together, %i units", (units) => {
  // Oil bath lasts 1.3 times as long as grease; site B's lives are half of A's, and most of its builds have the oil bath.
  const truth = Math.log(1.3);
  const outcomes = Array.from({ length: REPLICATIONS }, (_, number) => {
    const random = streamOf(SEED + units, number);
    const fleet = simulated(random, units, 7, (unit) => {
      const site = unit % 2;
      const oil = Number(random.uniform() < (site === 1 ? 0.8 : 0.2));
      return { logScale: Math.log(9000) + truth * oil + Math.log(0.5) * site, known: [oil, site] };
    });
    const lube = levels("lube", ["grease", "oil bath"], fleet.column(0));
    const site = levels("site", ["A", "B"], fleet.column(1));
    const [one] = answered(fleet, lube, [site], { reference: "grease", cluster: "unit" }).contrasts;
    return one!;
  });

  it("the crude ratio has the wrong sign, the adjusted one the true sign", () => {
    const mean = (of: (one: (typeof outcomes)[number]) => number) =>
      outcomes.reduce((sum, one) => sum + of(one), 0) / REPLICATIONS;
    expect(mean(({ crude }) => Math.log(crude.estimate!))).toBeLessThan(0);
    expect(mean(({ adjusted }) => Math.log(adjusted.estimate!))).toBeGreaterThan(truth / 2);
    expect(Math.abs(mean(({ adjusted }) => Math.log(adjusted.estimate!)) - truth)).toBeLessThan(0.03);
  });

  it("the interval covers the true ratio in 93 to 97 of 100", () => {
    const covered = outcomes.filter(({ adjusted: { low, high } }) => low! <= 1.3 && high! >= 1.3).length;
    expect(covered / REPLICATIONS).toBeGreaterThanOrEqual(0.93);
    expect(covered / REPLICATIONS).toBeLessThanOrEqual(0.97);
  });
});

describe("a null effect", () => {
  it("is called longer or shorter in at most 5 of 100, and some for chance", () => {
    const named = Array.from({ length: REPLICATIONS }, (_, number) => {
      const random = streamOf(SEED + 1, number);
      const fleet = simulated(random, 40, 7, () => ({
        logScale: Math.log(9000),
        known: [2 + 5 * random.uniform()],
      }));
      const effect: Known = { name: "end_play", kind: "measured", values: fleet.column(0) };
      return answered(fleet, effect, [], { cluster: "unit" }).verdict;
    }).filter((verdict) => verdict === "longer" || verdict === "shorter").length;
    // three standard errors of 5 % of 1,000 are 2.1 %
    expect(named / REPLICATIONS).toBeLessThanOrEqual(0.071);
  });
});

describe("an effect with its best inside", () => {
  it("gives back its best value within 0.4 thou in half of the fleets, from some 300 failures", () => {
    // lives at 2 thou are 0.6 of those at the best, 4.5 thou
    const bend = Math.log(0.6) / (2 - 4.5) ** 2;
    const off = Array.from({ length: 100 }, (_, number) => {
      const random = streamOf(SEED + 2, number);
      const fleet = simulated(random, 52, 8, () => {
        const value = Math.min(Math.max(4.5 + 1.4 * normal(random), 1), 8.5);
        return { logScale: Math.log(8500) + bend * (value - 4.5) ** 2, known: [value] };
      });
      const effect: Known = { name: "end_play", kind: "measured", values: fleet.column(0) };
      const { best } = answered(fleet, effect, [], { cluster: "unit" });
      return { failures: fleet.failed.reduce((sum, one) => sum + one, 0), error: Math.abs((best.estimate ?? 9) - 4.5) };
    });
    const failures = off.reduce((sum, one) => sum + one.failures, 0) / off.length;
    expect(failures).toBeGreaterThan(270);
    expect(failures).toBeLessThan(330);
    expect(off.map(({ error }) => error).sort((one, other) => one - other)[50]).toBeLessThan(0.4);
  });
});

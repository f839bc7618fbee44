import { describe, expect, it } from "vitest";
import { andersonDarling } from "../../../src/stats/goodness/anderson-darling.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { fitWeibull } from "../../../src/stats/weibull/fit.ts";
import { expectAgreement } from "../../agree.ts";

const SETS = 1000;
const SIZE = 20;

function weibullAges(stream: Stream): Float64Array {
  return Float64Array.from({ length: SIZE }, () => 9000 * (-Math.log1p(-stream.uniform())) ** (1 / 1.6)).sort();
}

/** Median of that Weibull is 9000 * ln(2)^(1 / 1.6) = 7157. */
const watchings: [string, (ages: Float64Array) => number][] = [
  ["to failure all", () => Number.POSITIVE_INFINITY],
  ["for a fixed time, the median life", () => 7157],
  ["up to the 8th failure", (ages) => ages[7]!],
];

describe("the p-value of Anderson-Darling holds its level on Weibull lives, seed 20261126", () => {
  it.each(watchings)("watched %s", (_, endOf) => {
    const p: number[] = [];
    for (let set = 0; set < SETS; set++) {
      const ages = weibullAges(streamOf(20261126, set));
      const end = endOf(ages);
      const lives = {
        time: ages.map((age) => Math.min(age, end)),
        failed: Uint8Array.from(ages, (age) => (age <= end ? 1 : 0)),
      };
      const fit = fitWeibull(lives);
      if (!fit.converged) continue;
      p.push(andersonDarling(lives, fit, { draws: 99, seed: set }).pValue!);
    }
    expect(p.length).toBeGreaterThan(0.99 * SETS);
    for (const [level, allowed] of [
      [0.05, 0.021],
      [0.1, 0.029],
      [0.5, 0.048],
    ] as const) {
      // Three standard errors of a share in 1000.
      expectAgreement(p.filter((value) => value <= level).length / p.length, level, { abs: allowed }, `at ${level}`);
    }
  });
});

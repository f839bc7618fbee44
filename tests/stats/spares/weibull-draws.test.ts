import { describe, expect, it } from "vitest";
import { type DrawnWeibulls, weibullDraws } from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";

type Covariance = [[number, number], [number, number]];
const covariance: Covariance = [
  [0.01, 0.003],
  [0.003, 0.04],
];
const fit = { shape: 1.8, scale: 9000, covariance };

function moments({ draws: { shape, scale } }: DrawnWeibulls) {
  const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [logScale, logShape] = [scale.map(Math.log), shape.map(Math.log)];
  const [a, b] = [mean(logScale), mean(logShape)];
  const across = (one: Float64Array, other: Float64Array, [p, q]: [number, number]) =>
    mean(one.map((value, at) => (value - p) * (other[at]! - q)));
  return {
    a,
    b,
    aa: across(logScale, logScale, [a, a]),
    ab: across(logScale, logShape, [a, b]),
    bb: across(logShape, logShape, [b, b]),
  };
}

describe("weibullDraws", () => {
  it("draws with the mean and covariance of the fit", () => {
    const found = weibullDraws(fit, { draws: 20_000, seed: 1 });
    const { a, b, aa, ab, bb } = moments(found);
    // standard errors: 0.0007, 0.0014; relative ones of variances 1 %
    expectAgreement(a, Math.log(9000), { abs: 0.003 });
    expectAgreement(b, Math.log(1.8), { abs: 0.006 });
    expectAgreement(aa, 0.01, { rel: 0.04 });
    expectAgreement(bb, 0.04, { rel: 0.04 });
    expectAgreement(ab, 0.003, { abs: 0.0006 });
    expect(found.redrawn).toBe(0);
  });

  it("gives draw n the same law however many are drawn, and whichever is first", () => {
    const all = weibullDraws(fit, { draws: 50, seed: 7 }).draws;
    expect(weibullDraws(fit, { draws: 10, seed: 7 }).draws.shape).toEqual(all.shape.slice(0, 10));
    expect(weibullDraws(fit, { draws: 20, seed: 7, from: 30 }).draws.scale).toEqual(all.scale.slice(30));
    expect(weibullDraws(fit, { draws: 10, seed: 8 }).draws.shape).not.toEqual(all.shape.slice(0, 10));
  });

  it("keeps laws sensible where the fit knows next to nothing", () => {
    const found = weibullDraws(
      {
        ...fit,
        covariance: [
          [25, 0],
          [0, 9],
        ],
      },
      { draws: 2000, seed: 2 },
    );
    expect(found.redrawn).toBeGreaterThan(100);
    for (const shape of found.draws.shape) expect(shape >= 0.1 && shape <= 30).toBe(true);
    for (const scale of found.draws.scale) expect(scale >= 9 && scale <= 9e6).toBe(true);
    const beyond = weibullDraws({ ...fit, shape: 900 }, { draws: 2, seed: 2 });
    expect(beyond.redrawn).toBe(200);
    expect([...beyond.draws.shape]).toEqual([30, 30]);
  });

  it("holds a parameter that is known, and refuses what is no covariance", () => {
    const held = weibullDraws(
      {
        ...fit,
        covariance: [
          [0.01, 0],
          [0, 0],
        ],
      },
      { draws: 5, seed: 1 },
    );
    expect([...held.draws.shape]).toEqual([1.8, 1.8, 1.8, 1.8, 1.8]);
    for (const wrong of [
      [
        [-1, 0],
        [0, 1],
      ],
      [
        [1, 2],
        [2, 1],
      ],
      [
        [1, 0.1],
        [0.2, 1],
      ],
      [
        [Number.NaN, 0],
        [0, 1],
      ],
      [
        [0, 0.1],
        [0.1, 0],
      ],
    ] satisfies Covariance[]) {
      expect(() => weibullDraws({ ...fit, covariance: wrong }, { draws: 1, seed: 1 }), String(wrong)).toThrow(
        "is no covariance",
      );
    }
    expect(() => weibullDraws(fit, { draws: 0, seed: 1 })).toThrow(RangeError);
    expect(() => weibullDraws(fit, { draws: 1, seed: 0.5 })).toThrow("the seed must be whole");
  });
});

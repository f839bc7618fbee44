import { describe, expect, it } from "vitest";
import { fitSurface } from "../../../src/stats/fit/fit.ts";
import { nearSurface } from "../../../src/stats/fit/near-surface.ts";
import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import type { IntervalLives } from "../../../src/stats/lives.ts";

const SIZE = 400;
/** Evenly spread quantiles of a Weibull distribution of shape 1.7, every third failed. */
const low = Float64Array.from({ length: SIZE }, (_, k) => 9000 * (-Math.log(1 - (k + 0.5) / SIZE)) ** (1 / 1.7));
const isFailed = (k: number) => k % 3 === 0;
const right = Float64Array.from(low, (age, k) => (isFailed(k) ? age : Number.POSITIVE_INFINITY));

const SETS: Record<string, IntervalLives> = {
  "a third failed": { low, high: right },
  "entered late": { low, high: right, entry: low.map((age, k) => (k % 4 === 0 ? age * 0.6 : 0)) },
  counted: { low, high: right, count: low.map((_, k) => 1 + (k % 5)) },
  "some within an interval": { low, high: right.map((end, k) => (k % 6 === 0 ? end * 1.2 : end)) },
  "few failed": { low, high: right.map((end, k) => (k % 60 === 0 ? end : Number.POSITIVE_INFINITY)) },
  "in other units": { low: low.map((age) => age * 1e-9), high: right.map((end) => end * 1e-9) },
};
const QUANTITIES: Quantity[] = [
  { kind: "shape" },
  { kind: "scale" },
  { kind: "quantile", p: 0.01 },
  { kind: "quantile", p: 0.1 },
  { kind: "mean" },
];

function fitted(lives: IntervalLives) {
  const surface = surfaceOf(lives, "weibull");
  if ("refused" in surface) throw new Error(surface.refused);
  const fit = fitSurface(surface);
  if (!fit.converged) throw new Error(fit.reason);
  return { surface, fit };
}

describe.each(Object.entries(SETS))("nearSurface of lives, %s", (_, lives) => {
  const { surface, fit } = fitted(lives);
  const near = nearSurface(surface, fit);

  it.each(QUANTITIES)("gives the profile limits that passes over the lives give: $kind $p", (quantity) => {
    for (const level of [0.5, 0.95, 0.999]) {
      const [quick, plain] = [near, surface].map((one) => profileInterval(one, fit, quantity, level));
      expect(Math.abs(quick!.low! / plain!.low! - 1)).toBeLessThan(1e-8);
      expect(Math.abs(quick!.high! / plain!.high! - 1)).toBeLessThan(1e-8);
    }
  });

  it("is the same surface near the maximum and far from it", () => {
    for (const [byScale, byShape] of [
      [0, 0],
      [0.05, -0.08],
      [-0.2, 0.15],
      [0.5, -0.9],
      [-1, 1.2],
      [0, 3],
    ] as const) {
      const point = [Math.log(fit.scale) + byScale, Math.log(fit.shape) + byShape] as const;
      const [quick, plain] = [near.at(...point), surface.at(...point)];
      const size = Math.max(Math.abs(plain.value), 1);
      expect(Math.abs(quick.value - plain.value) / size).toBeLessThan(1e-11);
      const steep = Math.max(Math.abs(plain.aa), Math.abs(plain.ee), 1);
      for (const part of ["a", "e", "aa", "ae", "ee"] as const) {
        expect(Math.abs(quick[part] - plain[part]) / steep).toBeLessThan(1e-9);
      }
    }
  });
});

describe("nearSurface", () => {
  it("passes over no life near the maximum, which is what it is for", () => {
    const { surface, fit } = fitted(SETS["a third failed"]!);
    let passes = 0;
    const counted = {
      ...surface,
      at: (a: number, e: number) => {
        passes++;
        return surface.at(a, e);
      },
    };
    profileInterval(nearSurface(counted, fit), fit, { kind: "quantile", p: 0.1 }, 0.95);
    expect(passes).toBe(0);
    profileInterval(counted, fit, { kind: "quantile", p: 0.1 }, 0.95);
    expect(passes).toBeGreaterThan(10);
  });

  it("leaves few lives and other laws as they are", () => {
    const few = fitted({ low: low.slice(0, 30), high: right.slice(0, 30) });
    expect(nearSurface(few.surface, few.fit)).toBe(few.surface);
    const surface = surfaceOf(SETS["a third failed"]!, "lognormal");
    if ("refused" in surface) throw new Error(surface.refused);
    const fit = fitSurface(surface);
    if (!fit.converged) throw new Error(fit.reason);
    expect(nearSurface(surface, fit)).toBe(surface);
  });
});

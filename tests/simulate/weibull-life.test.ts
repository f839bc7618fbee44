import { describe, expect, it } from "vitest";
import { weibullLife } from "../../src/simulate/weibull-life.ts";

describe("weibullLife()", () => {
  it.each([
    { u: Math.exp(-1), shape: 1.7, scale: 9000, life: 9000, source: "by hand: -ln(1/e) is 1, and 1 to any power is 1" },
    { u: 0.9, shape: 1, scale: 9000, life: 948.244641, source: "by hand: 9000 x 0.105360516 = 948.2446" },
    { u: 0.5, shape: 2, scale: 1000, life: 832.554611, source: "by hand: 1000 x sqrt(0.693147181) = 832.5546" },
    { u: Math.exp(-8), shape: 3, scale: 10, life: 20, source: "by hand: the cube root of 8 is 2" },
  ])("gives $life h at u $u, shape $shape, scale $scale ($source)", ({ u, shape, scale, life }) => {
    expect(Math.abs(weibullLife(u, shape, scale) - life)).toBeLessThan(1e-6 * life);
  });

  it.each([
    [0, 1, 1],
    [1, 1, 1],
    [0.5, 0, 1],
    [0.5, 1, -1],
    [Number.NaN, 1, 1],
  ])("refuses u %d, shape %d, scale %d", (u, shape, scale) => {
    expect(() => weibullLife(u, shape, scale)).toThrow(RangeError);
  });
});

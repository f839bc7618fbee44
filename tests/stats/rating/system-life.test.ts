import { describe, expect, it } from "vitest";
import { LIFE_SLOPE } from "../../../src/stats/rating/rolling-element.ts";
import { systemLife } from "../../../src/stats/rating/system-life.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("systemLife", () => {
  const iso = new PublishedCase("13_iso281");
  it.each([
    ["system_L10h_ball", LIFE_SLOPE.ball],
    ["system_L10h_roller", LIFE_SLOPE.roller],
    ["system_L10h_common_1.5", LIFE_SLOPE.common],
  ])("%s (closed form in R, case 13_iso281)", (name, slope) => {
    const { value, tolerance } = iso.value(name);
    expectAgreement(systemLife([40_000, 65_000], slope), value, tolerance);
  });

  it("W-BR2: two of 37 037 h come to about 23 300 h (API 610, 12th edition, 6.10.1.11, as restated in public)", () => {
    expectAgreement(systemLife([37_037, 37_037]), 23_300, { abs: 50 });
  });

  it("is the life itself of one bearing, and stays finite for lives and slopes far out", () => {
    expect(systemLife([5000])).toBe(5000);
    // By hand: 2^(-1/1.5) of either life.
    expectAgreement(systemLife([1e300, 1e300]), 1e300 * 2 ** (-1 / 1.5), { rel: 1e-12 });
    expect(systemLife([1e-300, 1e300], 500)).toBe(1e-300);
  });

  it("refuses no lives, lives of 0 or without end, and no slope", () => {
    expect(() => systemLife([])).toThrow("there are none");
    expect(() => systemLife([1000, 0])).toThrow("each must be above 0 and finite, found 0");
    expect(() => systemLife([1000, Number.POSITIVE_INFINITY])).toThrow("found Infinity");
    expect(() => systemLife([1000], 0)).toThrow("the slope must be above 0 and finite, found 0");
  });
});

import { describe, expect, it } from "vitest";
import { chiSquareTail } from "../../src/stats/chi-square-tail.ts";
import { expectAgreement } from "../agree.ts";

describe("chiSquareTail", () => {
  // R 4.2.2: pchisq(VALUE, DEGREES, lower.tail = FALSE)
  it.each([
    [0, 1, 1],
    [10.3267419549, 1, 0.001311164520345282],
    [386.806784715, 2, 1.013850495537057e-84],
    [1000, 999, 0.4851314892749015],
    [2126, 2000, 0.0248604021964],
    [11000, 10_000, 3.6183295581e-12],
    [9900, 10_000, 0.759520085684],
  ])("%d with %d degrees: %d", (value, degrees, p) => {
    expectAgreement(chiSquareTail(value, degrees), p, { rel: 1e-11 });
  });

  it("refuses what is no chi-square", () => {
    expect(() => chiSquareTail(-1, 1)).toThrow(RangeError);
    expect(() => chiSquareTail(Number.NaN, 1)).toThrow(RangeError);
    expect(() => chiSquareTail(1, 0)).toThrow(RangeError);
  });
});

import { describe, expect, it } from "vitest";
import { fTail } from "../../src/stats/f-tail.ts";
import { expectAgreement } from "../agree.ts";

describe("fTail", () => {
  // R 4.2.2: pf(value, above, below, lower.tail = FALSE)
  it.each([
    { value: 161.4476, above: 1, below: 1, p: 0.0500000059830921 },
    { value: 3.2, above: 3, below: 37.4, p: 0.0342344547203253 },
    { value: 50, above: 2, below: 198, p: 2.6451097256216e-18 },
    { value: 0.5, above: 5, below: 12.25, p: 0.770845605249618 },
    { value: 0, above: 2, below: 3, p: 1 },
    { value: 400, above: 3, below: 39, p: 2.57011354042345e-29 },
    { value: 2e4, above: 2, below: 198, p: 3.57778052814992e-229 },
  ])("is $p beyond $value with $above and $below degrees", ({ value, above, below, p }) => {
    expectAgreement(fTail(value, above, below), p, { rel: 1e-11 });
  });

  it.each([
    [-1, 1, 1],
    [Number.NaN, 1, 1],
    [Number.POSITIVE_INFINITY, 1, 1],
    [1, 0, 1],
    [1, 1, -2],
  ])("is wrong to be asked for %d with %d and %d degrees", (value, above, below) => {
    expect(() => fTail(value, above, below)).toThrow(RangeError);
  });
});

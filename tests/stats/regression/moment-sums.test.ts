import { describe, expect, it } from "vitest";
import { linearTerms, ofAny } from "../../../src/stats/regression/linear-terms.ts";
import { addAny, addMoments } from "../../../src/stats/regression/moment-sums.ts";
import { expectAgreement } from "../../agree.ts";

// two rows, of which the first begins at 1
const x = Float64Array.of(99, 1, 2, 3, -1, 0.5, 4);

describe("addMoments", () => {
  // by hand, weights 2 and 10: sum 12; of columns 2 - 10, 4 + 5, 6 + 40; of products a a, b a, b b, c a, c b, c c
  const expected = [12, -8, 9, 46, 12, -1, 10.5, -34, 32, 178];
  it.each([
    ["three at once", addMoments],
    ["the plain way", addAny],
  ])("adds weights, columns and products, %s", (_, add) => {
    const sums = new Float64Array(10).fill(1);
    add(sums, Float64Array.of(2, 10), x, 1, 2, 3);
    for (const [at, value] of expected.entries()) expectAgreement(sums[at], 1 + value, { rel: 1e-14 });
  });

  it("adds those of two columns", () => {
    const sums = new Float64Array(6);
    addMoments(sums, Float64Array.of(2, 10), Float64Array.of(1, 2, -1, 0.5), 0, 2, 2);
    expect([...sums]).toEqual([12, -8, 9, 12, -1, 10.5]);
  });
});

describe("linearTerms", () => {
  it.each([
    ["three at once", linearTerms],
    ["the plain way", ofAny],
  ])("gives b'x, %s", (_, terms) => {
    const into = new Float64Array(3);
    terms(into, Float64Array.of(2, -1, 0.5), x, 1, 2);
    // by hand: 2 - 2 + 1.5; -2 - 0.5 + 2
    expect([...into]).toEqual([1.5, -0.5, 0]);
  });
});

import { describe, expect, it } from "vitest";
import { drawnGamma } from "../../../src/stats/random/drawn-gamma.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

const DRAWS = 40_000;

// Shares at or under an age: R 4.2.2, pgamma(q, shape)
const CASES = [
  { shape: 0.5, q: 0.25, p: 0.520_499_9 },
  { shape: 0.5, q: 1.5, p: 0.916_735_5 },
  { shape: 1, q: 0.7, p: 0.503_414_7 },
  { shape: 3.5, q: 2, p: 0.220_222_6 },
  { shape: 3.5, q: 6, p: 0.899_441_1 },
  { shape: 40, q: 44, p: 0.746_922 },
];

describe("drawnGamma", () => {
  it.each(CASES)("lies under $q as often as a gamma variable of shape $shape", ({ shape, q, p }) => {
    let under = 0;
    for (let draw = 0; draw < DRAWS; draw++) if (drawnGamma(shape, streamOf(7, draw)) <= q) under++;
    // Four standard errors
    expectAgreement(under / DRAWS, p, { abs: 4 * Math.sqrt((p * (1 - p)) / DRAWS) });
  });

  it("is 0 for a shape of 0", () => expect(drawnGamma(0, streamOf(1, 1))).toBe(0));
});

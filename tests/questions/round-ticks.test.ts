import { describe, expect, it } from "vitest";
import { roundLogTicks, roundTicks } from "../../src/questions/round-ticks.ts";

describe("roundTicks()", () => {
  it.each([
    { end: 17_340, ticks: [0, 5000, 10_000, 15_000, 20_000] },
    { end: 6, ticks: [0, 1, 2, 3, 4, 5, 6] },
    { end: 0.9, ticks: [0, 0.2, 0.4, 0.6, 0.8, 1] },
    { end: 0, ticks: [0, 1] },
  ])("covers 0 to $end in round steps (by hand)", ({ end, ticks }) => {
    expect(roundTicks(end)).toEqual(ticks);
  });
});

describe("roundLogTicks()", () => {
  it.each([
    { low: 80, high: 20_000, ticks: [100, 200, 500, 1000, 2000, 5000, 10_000, 20_000] },
    { low: 1, high: 1e6, ticks: [1, 10, 100, 1000, 10_000, 100_000, 1_000_000] },
    { low: 25, high: 90, ticks: [30, 40, 50, 60, 80] },
  ])("gives round values from $low to $high (by hand)", ({ low, high, ticks }) => {
    expect(roundLogTicks(low, high)).toEqual(ticks);
  });
});

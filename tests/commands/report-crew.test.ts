import { describe, expect, it } from "vitest";
import { heapFor, threadsFor } from "../../src/commands/report-crew.ts";

describe("threadsFor()", () => {
  it("has one thread for one fleet with little on record, two for one with much", () => {
    expect(threadsFor({ fleets: 1, rows: 400, cores: 8 })).toBe(1);
    expect(threadsFor({ fleets: 1, rows: 150_000, cores: 8 })).toBe(2);
  });

  it("has no more threads than fleets, cores, or eight", () => {
    expect(threadsFor({ fleets: 3, rows: 400, cores: 8 })).toBe(3);
    expect(threadsFor({ fleets: 3, rows: 150_000, cores: 2 })).toBe(2);
    expect(threadsFor({ fleets: 200, rows: 150_000, cores: 64 })).toBe(8);
    expect(threadsFor({ fleets: 200, rows: 150_000, cores: 1 })).toBe(1);
  });
});

describe("heapFor()", () => {
  it("holds a thread's objects below 2 GiB, but where much is on record", () => {
    const { maxOldGenerationSizeMb: most } = heapFor(150_000);
    expect(most).toBeGreaterThan(0);
    expect(most).toBeLessThan(2048);
    expect(heapFor(1_000_000)).toEqual({});
  });
});

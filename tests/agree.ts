import { expect } from "vitest";

/** A published figure agrees with ours when they differ by no more than the larger of `abs` and `rel` times its size. */
export type Tolerance = { abs?: number; rel?: number };

/** Fails with both figures and the difference allowed unless |found - expected| <= max(abs, rel * |expected|). */
export function expectAgreement(
  found: number | null | undefined,
  expected: number,
  tolerance: Tolerance,
  what = "",
): void {
  const allowed = Math.max(tolerance.abs ?? 0, (tolerance.rel ?? 0) * Math.abs(expected));
  const words = `${what} found ${found}, expected ${expected}, allowed difference ${allowed}`;
  expect(typeof found === "number" && Math.abs(found - expected) <= allowed, words).toBe(true);
}

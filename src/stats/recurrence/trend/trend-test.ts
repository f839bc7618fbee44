import { logNormalTail } from "../../distribution/normal-tail.ts";

/** Deteriorating: events come closer together as units age. Improving: further apart. */
export type TrendDirection = "deteriorating" | "improving";

/** A test that events do not come closer together or further apart with age. What data do not allow is null, and `reason` says why. */
export type TrendTest = {
  /** As the test defines it. */
  statistic: number | null;
  /** Two-sided. */
  p: number | null;
  /** Where the statistic points, whatever its p; null where it points nowhere. */
  direction: TrendDirection | null;
  /** Events that the statistic rests on. */
  events: number;
  /** Units that they are of. */
  units: number;
  reason?: string;
};

/** What a test says where there is nothing to test. */
export const NO_TEST = { statistic: null, p: null, direction: null } as const;

/** Two-sided p of a normal statistic, to full relative precision. */
export function normalP(z: number): number {
  return Math.min(1, 2 * Math.exp(logNormalTail(-Math.abs(z))));
}

/** Direction of a statistic that is above 0 where events come closer together. */
export function directionOf(closer: number): TrendDirection | null {
  if (closer === 0) return null;
  return closer > 0 ? "deteriorating" : "improving";
}

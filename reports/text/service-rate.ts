import type { Clock } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import { unitOf, withLimits } from "../../src/questions/wording.ts";

/** What rates are given for, so that they are figures that people can read. */
const PER = { hours: 10_000, days: 1000 } as const;

/** "10,000 h". */
export function perService(clock: Clock | null): string {
  return clock === null ? "unit of time" : `${PER[clock].toLocaleString("en-US")}${unitOf(clock)}`;
}

/** A rate for so much service, with its limits. */
export function rateWords({ estimate, low, high, reason }: Estimate, clock: Clock | null): string {
  const per = clock === null ? 1 : PER[clock];
  const times = (value: number | null) => (value === null ? null : per * value);
  return withLimits(
    { estimate: times(estimate), low: times(low), high: times(high), ...(reason !== undefined && { reason }) },
    "",
  );
}

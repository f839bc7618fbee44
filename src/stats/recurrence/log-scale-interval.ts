import { intervalAround } from "../fit/interval-around.ts";
import type { Interval } from "../fit/quantity.ts";

/** Estimate and limits, `reach` below and above it on the log scale; what lies beyond the range of numbers is null, with the reason. */
export function logScaleInterval(logEstimate: number, reach: number): Interval {
  // Quantiles are worked on by their logs.
  return intervalAround({ kind: "quantile", p: 0.5 }, logEstimate, reach);
}

import type { Estimate } from "./estimate.ts";

/** How the rate of failure goes with age, as far as the limits of a shape tell. */
export type HazardTrend = "rises" | "falls" | "about constant" | "open";

/** Limits of a shape within which the rate of failure hardly changes over a life: our own choice, no source. */
const ABOUT_CONSTANT = { low: 0.8, high: 1.25 };

/** Of a Weibull or gamma shape. */
export function hazardTrend({ low, high }: Pick<Estimate, "low" | "high">): HazardTrend {
  if (low !== null && low > 1) return "rises";
  if (high !== null && high < 1) return "falls";
  if (low !== null && high !== null && low >= ABOUT_CONSTANT.low && high <= ABOUT_CONSTANT.high)
    return "about constant";
  return "open";
}

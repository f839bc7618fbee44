import type { Interval } from "../fit/quantity.ts";

/** Known limits of an estimate above 0; one that does not exist is null. */
type Limits = Pick<Interval, "estimate" | "low" | "high">;

/**
 * Ratio of two independent estimates, with limits from theirs: on the log scale the distances from estimate to limit are added as squares,
 * each on its own side, so that the ratio's limits are as unsymmetrical, as calibrated, and as wary of clusters as those it is made of.
 * @returns limits of the level of both; null on a side where either has none
 * @see G. Y. Zou & A. Donner, Construction of confidence limits about effect measures, Statistics in Medicine 27 (2008) 1693-1702
 * @example ratioOfIntervals({ estimate: 6000, low: 5000, high: 7000 }, { estimate: 3000, low: 2500, high: 3700 });
 */
export function ratioOfIntervals(above: Limits, below: Limits): Interval {
  const estimate = above.estimate / below.estimate;
  const reach = (a: number | null, b: number | null) =>
    a === null || b === null ? null : Math.hypot(Math.log(a / above.estimate), Math.log(b / below.estimate));
  const down = reach(above.low, below.high);
  const up = reach(above.high, below.low);
  return {
    estimate,
    low: down === null ? null : estimate * Math.exp(-down),
    high: up === null ? null : estimate * Math.exp(up),
    ...(down === null || up === null ? { reason: "one of the two has no limit on that side" } : {}),
  };
}

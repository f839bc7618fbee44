import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { checkedLevel, normalHalfWidth } from "../level.ts";

/** What a comparison is to be sure of. */
export type Aim = {
  /** Two-sided confidence level, between 0 and 1: 1 less the share of null comparisons that find something. 0.95 where not given. */
  level?: number;
  /** Chance to find what there is, above half of 1 less the level. 0.8 where not given. */
  power?: number;
};

/**
 * Standard errors that what is to be found must lie from nothing: z(1 - alpha / 2) + z(power), alpha = 1 - level.
 * @throws RangeError for a level or a power out of range
 */
export function errorsApart({ level = 0.95, power = 0.8 }: Aim): number {
  const least = (1 - checkedLevel(level)) / 2;
  if (!(power > least && power < 1)) {
    throw new RangeError(`Cannot size a trial: the power must lie in (${least}, 1), found ${power}`);
  }
  return normalHalfWidth(level) + normalQuantile(power, 0, 1);
}

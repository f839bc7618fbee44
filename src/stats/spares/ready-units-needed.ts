import { checkedAmount } from "./check-chances.ts";
import { countQuantile } from "./count-quantile.ts";
import { poissonCounts } from "./poisson-counts.ts";

/** An exchange pool: units that come off, are made good and go back on the shelf. */
export type ExchangePool = {
  /** Units that come off in a unit of time, 0 or more. */
  rate: number;
  /** Time from coming off to back on the shelf, in the same unit, 0 or more. */
  turnaround: number;
  /** Chance to be kept that no more units are away than the pool holds, 0 < service < 1. */
  service: number;
};

/**
 * Ready units that an exchange pool needs: the smallest n that the units in turnaround do not exceed with the chance `service`. They are
 * Poisson of mean rate times mean turnaround, whatever the turnaround's own distribution.
 * @param pool - rate, turnaround and service
 * @returns a number of units
 * @throws RangeError for what lies outside its range
 * @see C. Palm, Ericsson Technics 44 (1938); C. C. Sherbrooke, Optimal Inventory Modeling of Systems, ch. 2
 * @example readyUnitsNeeded({ rate: 2, turnaround: 52, service: 0.95 }); // 121
 */
export function readyUnitsNeeded({ rate, turnaround, service }: ExchangePool): number {
  return countQuantile(poissonCounts(checkedAmount("rate", rate) * checkedAmount("turnaround", turnaround)), service);
}

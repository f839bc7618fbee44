import { checkedAmount } from "./check-chances.ts";
import { intermittentDemand } from "./intermittent-demand.ts";
import { poissonCounts } from "./poisson-counts.ts";

/**
 * Use ahead by smoothing of intermittent demand: Poisson about the corrected rate. No law stands behind the smoothing, which gives a rate and
 * no chances; Poisson noise is what is put on every plain rival alike, and knows nothing of how well the rate is known.
 * @param counts - pieces used in each period, in order: whole numbers, 0 or more; without any demand none is forecast
 * @param options - `smoothing`: 0 < smoothing <= 1; `periods`: ahead, 0 or more
 * @returns the chance of each count, from 0 on
 * @throws RangeError for what are no counts, or options out of range
 * @see A. A. Syntetos & J. E. Boylan, International J. Forecasting 21 (2005) 303-314
 * @example intermittentForecast(Float64Array.of(0, 2, 0, 0, 1, 0, 0, 0, 3, 0, 1), { smoothing: 0.1, periods: 2 })[0]; // 0.201050
 */
export function intermittentForecast(
  counts: Float64Array | Int32Array,
  { smoothing, periods }: { smoothing: number; periods: number },
): Float64Array {
  checkedAmount("number of periods", periods);
  const demand = intermittentDemand(counts, smoothing);
  return poissonCounts("reason" in demand ? 0 : demand.correctedRate * periods);
}

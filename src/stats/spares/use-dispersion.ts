import { type Counts, checkCounts, sumOf, watchedCounts } from "../offenders/counts.ts";
import { type Dispersion, dispersionOf } from "../offenders/dispersion.ts";

/** Whether use by period scatters more than Poisson counts do. */
export type UseDispersion = Dispersion & {
  /** Pieces in one unit of exposure. */
  rate: number;
  /** Variance over mean, about the rate: chi-square over its degrees; 1 of Poisson counts on average. */
  ratio: number;
};

/**
 * Variance of counts over their mean, with the chance of so large a one, were they Poisson of one rate.
 * @param counts - pieces used in each period, and its exposure: time, or running hours
 * @returns the ratio and its test; or why there is none
 * @throws RangeError for columns that are not counts and exposures
 * @see R. A. Fisher, Statistical Methods for Research Workers, ch. 3 (index of dispersion)
 * @example useDispersion({ events: Float64Array.of(0, 0, 9, 0, 1, 8), exposure: Float64Array.of(1, 1, 1, 1, 1, 1) });
 */
export function useDispersion(counts: Counts): UseDispersion | { reason: string } {
  checkCounts(counts);
  const { events, exposure } = watchedCounts(counts);
  if (events.length < 2) return { reason: "there are fewer than two periods" };
  const rate = sumOf(events) / sumOf(exposure);
  if (rate === 0) return { reason: "nothing was used in any period" };
  const dispersion = dispersionOf({ events, exposure });
  return { ...dispersion, rate, ratio: dispersion.chiSquare / dispersion.degrees };
}

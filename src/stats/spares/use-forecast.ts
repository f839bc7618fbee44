import { type Counts, checkCounts, sumOf, watchedCounts } from "../offenders/counts.ts";
import { checkedAmount } from "./check-chances.ts";
import { JEFFREYS, meanRateForecast } from "./mean-rate-forecast.ts";
import { negativeBinomialCounts } from "./negative-binomial-counts.ts";
import { type UseDispersion, useDispersion } from "./use-dispersion.ts";

/** Use ahead, as past use alone tells it. */
export type UseForecast = {
  /** Chance of each count, from 0 on. */
  chances: Float64Array;
  /** Noise about the rate that was taken: "poisson", or "negative binomial" where past use scatters credibly more. */
  noise: "poisson" | "negative binomial";
  /** Its test; null where past use is too little for one. */
  dispersion: UseDispersion | null;
};

/** A chance under which scatter is credibly more than Poisson's. */
const CREDIBLE = 0.05;

/**
 * Use ahead at the rate of past use, the rate known as well as the past tells it. With m pieces expected, u used so far and a ratio r of
 * variance to mean, r = 1 where the counts may be Poisson: a negative binomial of mean m and variance r m + r m^2 / (u + 1/2).
 * @param counts - pieces used in each period, and its exposure: time, or running hours; at least one with an exposure
 * @param ahead - exposure to come, in the same unit: 0 or more
 * @returns the chances and what was taken
 * @throws RangeError for columns that are not counts and exposures, or no exposure at all
 * @see P. McCullagh & J. A. Nelder, Generalized Linear Models, ch. 6 (over-dispersed counts); J. F. Lawless & M. Fredette, Biometrika 92 (2005) 529-542
 * @example useForecast({ events: Float64Array.of(2, 1, 3), exposure: Float64Array.of(1, 1, 1) }, 1).chances[0]; // 0.154134
 */
export function useForecast(counts: Counts, ahead: number): UseForecast {
  checkCounts(counts);
  checkedAmount("exposure ahead", ahead);
  const watched = watchedCounts(counts);
  const [used, exposure] = [sumOf(watched.events), sumOf(watched.exposure)];
  const found = useDispersion(counts);
  const dispersion = "reason" in found ? null : found;
  if (dispersion === null || dispersion.p >= CREDIBLE || ahead === 0) {
    return { chances: meanRateForecast({ used, exposure }, ahead), noise: "poisson", dispersion };
  }
  const shape = used + JEFFREYS;
  const mean = (shape / exposure) * ahead;
  const spread = (dispersion.ratio - 1) / mean + dispersion.ratio / shape;
  return { chances: negativeBinomialCounts(mean, spread), noise: "negative binomial", dispersion };
}

import { checkedAmount, checkedWhole } from "./check-chances.ts";
import { negativeBinomialCounts } from "./negative-binomial-counts.ts";

/** Pieces used, and in how much time or how many running hours. */
export type PastUse = {
  /** A whole number, 0 or more. */
  used: number;
  /** Above 0. */
  exposure: number;
};

/**
 * Use ahead at the mean rate of the past: Poisson, its rate known as well as the past tells it, gamma of shape used + 1/2 (Jeffreys's
 * prior), and so negative binomial. Nothing used yet is half a piece.
 * @param past - use and exposure
 * @param ahead - exposure to come, in the same unit: 0 or more
 * @returns the chance of each count, from 0 on
 * @throws RangeError if an argument lies outside its range
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12; J. F. Lawless & M. Fredette, Biometrika 92 (2005) 529-542
 * @example meanRateForecast({ used: 6, exposure: 3 }, 1)[0]; // 0.154134
 */
export function meanRateForecast({ used, exposure }: PastUse, ahead: number): Float64Array {
  checkedWhole("a count", used, 0);
  checkedAmount("exposure ahead", ahead);
  if (checkedAmount("exposure", exposure) === 0) throw new RangeError("Cannot take a rate: the exposure is 0");
  const shape = used + JEFFREYS;
  return negativeBinomialCounts((shape / exposure) * ahead, 1 / shape);
}

/** Shape that the prior adds. */
export const JEFFREYS = 0.5;

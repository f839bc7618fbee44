import type { Lives } from "../lives.ts";
import { riskTable } from "../survival/risk-table.ts";
import { approximateMedianRank, medianRank } from "./median-rank.ts";

/** Plotting position of one failure. */
export type AdjustedRank = {
  /** Age at the failure. */
  time: number;
  /** Rank among all lives, had those removed before gone on to fail: not whole once one was removed. */
  rank: number;
  /** Fraction failed by `time`: exact median rank. */
  medianRank: number;
  /** The same by (rank - 0.3) / (lives + 0.4). */
  approximateMedianRank: number;
};

/**
 * Johnson's adjusted ranks for lives of which some were removed unfailed: each failure adds
 * (lives + 1 - rank before) / (1 + lives at risk). Failures at one age get a rank each; failures come before removals at equal ages.
 * @param lives - exact or right-censored, with whole counts
 * @param options - `lastOnly`: of the failures at one age the last alone, whose rank is that of all that failed by then
 * @returns a row for each failure, by age
 * @throws RangeError for columns that are not lives, counts that are not whole, or any late entry: a rank counts from the first of all lives
 * @see L. G. Johnson, The Statistical Treatment of Fatigue Experiments, 1964
 * @example adjustedRanks({ time: Float64Array.of(10, 30, 45), failed: Uint8Array.of(0, 1, 1) });
 */
export function adjustedRanks(lives: Lives, { lastOnly = false }: { lastOnly?: boolean } = {}): AdjustedRank[] {
  if (lives.entry?.some((entry) => entry > 0))
    throw new RangeError("Cannot rank lives: some came under observation late");
  const table = riskTable(lives);
  const size = table[0]?.atRisk ?? 0;
  const ranks: AdjustedRank[] = [];
  let rank = 0;
  for (const { time, atRisk, failed } of table) {
    if (!Number.isInteger(failed))
      throw new RangeError(`Cannot rank lives: ${failed} failures at ${time} is no whole number`);
    for (let earlier = 0; earlier < failed; earlier++) {
      rank = Math.min(rank + (size + 1 - rank) / (1 + atRisk - earlier), size);
      if (lastOnly && earlier < failed - 1) continue;
      ranks.push({
        time,
        rank,
        medianRank: medianRank(rank, size),
        approximateMedianRank: approximateMedianRank(rank, size),
      });
    }
  }
  return ranks;
}

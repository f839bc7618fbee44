import type { Lives } from "../lives.ts";
import { type RiskColumns, riskColumns } from "../survival/risk-table.ts";
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
  const ranks: AdjustedRank[] = [];
  eachRank(riskColumns(lives), lastOnly, (time, rank, size) => {
    ranks.push({
      time,
      rank,
      medianRank: medianRank(rank, size),
      approximateMedianRank: approximateMedianRank(rank, size),
    });
  });
  return ranks;
}

/** Tells the adjusted rank of each failure, by age, of lives that are counted already: none of them entered late. */
export function eachRank(
  { time, atRisk, failed }: RiskColumns,
  lastOnly: boolean,
  tell: (time: number, rank: number, size: number) => void,
): void {
  const size = atRisk[0] ?? 0;
  let rank = 0;
  for (let row = 0; row < time.length; row++) {
    const [age, here] = [time[row]!, failed[row]!];
    if (!Number.isInteger(here))
      throw new RangeError(`Cannot rank lives: ${here} failures at ${age} is no whole number`);
    for (let earlier = 0; earlier < here; earlier++) {
      rank = Math.min(rank + (size + 1 - rank) / (1 + atRisk[row]! - earlier), size);
      if (!lastOnly || earlier === here - 1) tell(age, rank, size);
    }
  }
}

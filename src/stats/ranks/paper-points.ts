import type { Lives } from "../lives.ts";
import { type CurveStep, kaplanMeier } from "../survival/kaplan-meier.ts";
import { type CountedLives, countedLives, countedRiskColumns, entersLate } from "../survival/risk-table.ts";
import { eachRank } from "./adjusted-ranks.ts";
import { medianRank } from "./median-rank.ts";

/** A point on probability paper; `rank` is null where positions are not from ranks. */
export type PaperPoint = { time: number; rank: number | null; fractionFailed: number };

/** More points than this can't be told apart on paper. */
const MOST_POINTS = 2000;

/**
 * Points of the failures for probability paper: exact median ranks of Johnson's adjusted ranks; under late entry, where lives can't be
 * ranked, the middle of each jump of the Kaplan-Meier curve, one point for each age at failure.
 * @param lives - exact or right-censored
 * @param minimumAtRisk - under late entry, lives at risk with which the curve starts
 * @returns a point for each failure, by age; of over 2,000 failures one for each age, which has the rank of all that failed by then
 * @throws RangeError for columns that are not lives, or counts that are not whole
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 6 (middles of jumps); IEC 61649 (median ranks)
 * @example paperPoints(lives, 5);
 */
export function paperPoints(lives: Lives, minimumAtRisk: number): PaperPoint[] {
  if (!entersLate(lives)) return countedPaperPoints(countedLives(lives));
  return jumpMiddles(kaplanMeier(lives, { level: 0.95, limits: "plain", minimumAtRisk }));
}

/** The same of lives that are counted already, none of which entered late. */
export function countedPaperPoints(counted: CountedLives): PaperPoint[] {
  const columns = countedRiskColumns(counted);
  const lastOnly = columns.failed.reduce((sum, failed) => sum + failed, 0) > MOST_POINTS;
  const points: PaperPoint[] = [];
  eachRank(columns, lastOnly, (time, rank, size) => {
    points.push({ time, rank, fractionFailed: medianRank(rank, size) });
  });
  return points;
}

/** The points of lives of which some entered late, by their curve. */
export function jumpMiddles(curve: readonly CurveStep[]): PaperPoint[] {
  const points: PaperPoint[] = [];
  let before = 1;
  for (const { time, failed, survival } of curve) {
    if (failed > 0) points.push({ time, rank: null, fractionFailed: 1 - (before + survival) / 2 });
    before = survival;
  }
  return points;
}

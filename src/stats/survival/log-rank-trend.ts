import { chiSquareTail } from "../chi-square-tail.ts";
import type { LogRank } from "./log-rank.ts";

/** A test for trend; null where it can't be made, and `reason` says why. */
export type LogRankTrend = {
  /** Sum over groups of score * (observed - expected); above 0 where groups of greater score fail sooner. */
  difference: number | null;
  /** Chi-square with 1 degree of freedom where the groups have one hazard. */
  statistic: number | null;
  /** Two-sided. */
  p: number | null;
  reason?: string;
};

/**
 * Log-rank test for a hazard that rises or falls over ordered groups: (c'U)^2 / (c'V c), where U = observed - expected, V its
 * covariance and c the groups' scores.
 * @param test - a log-rank test of the groups
 * @param scores - a number per group, for example 0, 1, 2 or the middle of each class
 * @returns chi-square with 1 degree, its p, and which way the trend goes
 * @throws RangeError unless there is a finite score per group
 * @see R. E. Tarone, Biometrika 62 (1975) 679-682; Klein & Moeschberger, Survival Analysis, ch. 7
 * @example logRankTrend(logRank(lives, { group, groups: 3 }), Float64Array.of(0, 1, 2));
 */
export function logRankTrend({ groups, covariance }: LogRank, scores: Float64Array): LogRankTrend {
  if (scores.length !== groups.length || !scores.every(Number.isFinite)) {
    throw new RangeError(`Cannot test for trend: expected ${groups.length} finite scores, found ${scores.join(", ")}`);
  }
  // The variance through differences of scores, all of one sign: exactly 0 where no compared groups differ in score.
  let variance = 0;
  let difference = 0;
  for (let one = 0; one < scores.length; one++) {
    const { observed, expected } = groups[one]!;
    difference += (scores[one]! - scores[0]!) * (observed - expected);
    for (let other = 0; other < one; other++) {
      variance -= covariance[one]![other]! * (scores[one]! - scores[other]!) ** 2;
    }
  }
  if (variance > 0) {
    const statistic = difference ** 2 / variance;
    return { difference, statistic, p: chiSquareTail(statistic, 1) };
  }
  const reason = "no two groups of different score have lives at risk together at a failure that not all share";
  return { difference: null, statistic: null, p: null, reason };
}

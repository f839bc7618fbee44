import { checkedLevel } from "../level.ts";

/** What a test without failures is to show. */
export type ZeroFailureAim = {
  /** Weibull shape assumed, above 0. */
  shape: number;
  /** How long each unit runs, in missions: above 0. */
  testRatio: number;
  /** Share that is to survive the mission, between 0 and 1. */
  reliability: number;
  /** Confidence level, between 0 and 1. */
  level: number;
};

/**
 * Units to run without a failure to show a reliability at a confidence: n = ln(1 - level) / (testRatio^shape * ln(reliability)),
 * rounded up.
 * @param aim - shape, length of the test, reliability and level
 * @returns the number unrounded, and in whole units
 * @throws RangeError if an argument lies outside its range
 * @see W. Nelson, Weibull analysis of reliability data with few or no failures, J. Quality Technology 17 (1985) 140-146
 * @example zeroFailureSampleSize({ shape: 1, testRatio: 1, reliability: 0.9, level: 0.9 }); // { exact: 21.85, units: 22 }
 */
export function zeroFailureSampleSize(aim: ZeroFailureAim): { exact: number; units: number } {
  const { shape, testRatio, reliability, level } = aim;
  if (!(shape > 0 && testRatio > 0 && testRatio < Number.POSITIVE_INFINITY && shape < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot size a test: shape and test ratio must be above 0, found ${shape} and ${testRatio}`);
  }
  if (!(reliability > 0 && reliability < 1)) {
    throw new RangeError(`Cannot size a test: the reliability must lie in (0, 1), found ${reliability}`);
  }
  const exact = Math.log1p(-checkedLevel(level)) / (Math.log(reliability) * testRatio ** shape);
  if (!(exact < Number.MAX_SAFE_INTEGER)) {
    throw new RangeError("Cannot size a test: run so short, no number of units would do");
  }
  return { exact, units: Math.max(1, Math.ceil(exact * (1 - ROUNDING))) };
}

/** A whole number of units is not to become the next for rounding. */
const ROUNDING = 1e-12;

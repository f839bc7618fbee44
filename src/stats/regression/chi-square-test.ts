import { chiSquareTail } from "../chi-square-tail.ts";

/** A test by a statistic that is chi-square where nothing is to be found. */
export type ChiSquareTest = { statistic: number; degrees: number; p: number };

/** A statistic that rounding brought below 0 is 0. */
export function chiSquareTest(statistic: number, degrees: number): ChiSquareTest {
  const shown = Math.max(statistic, 0);
  return { statistic: shown, degrees, p: chiSquareTail(shown, degrees) };
}

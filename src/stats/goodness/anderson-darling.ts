import type { IntervalLives, Lives } from "../lives.ts";
import { type Draws, drawnDistances, type Watching } from "./drawn-distances.ts";
import { edfDistances } from "./edf-distances.ts";
import { type FittedDistribution, fittedSample } from "./fitted-sample.ts";
import { type SinglyCensored, singlyCensored } from "./singly-censored.ts";

/** The statistic and its p-value; what does not exist is null, and `reason` says why. */
export type AndersonDarling = {
  statistic: number | null;
  pValue: number | null;
  /** Sets drawn for the p-value. */
  draws: number;
  /** Sets drawn anew because they allowed no fit. */
  redrawn: number;
  reason?: string;
};

/**
 * Whether lives look as if they came from the distribution fitted to them: the Anderson-Darling statistic, and a
 * p-value by a parametric bootstrap that repeats the fit and the censoring, p = (1 + draws at least as far off) / (draws + 1). Lives
 * suspended at the age of the last failure count as a test that this failure ended; at a later age, as one of a fixed time.
 * Over 1,000 failures sets of 1,000 are drawn, with the same share failing: from there on the number moves the statistic by less than
 * 1 %. A small p speaks against the distribution, a large one does not prove it. Ages rounded so that many coincide look
 * worse than they are.
 * @param lives - complete, or suspended all at one age not below that of the last failure; for others there is a reason
 * @param fit - of greatest likelihood for the same lives
 * @param bootstrap - draws (999 is usual) and seed
 * @returns statistic and p-value, or a reason
 * @throws RangeError for columns that are not lives, or draws that are no whole number from 1
 * @see D'Agostino and Stephens, Goodness-of-Fit Techniques, 1986, ch. 4
 * @example andersonDarling(lives, fit, { draws: 999, seed: 1 }); // ball bearings of Lieblein and Zelen: { statistic: 0.3286, pValue: 0.529, ... }
 */
export function andersonDarling(
  lives: Lives | IntervalLives,
  fit: FittedDistribution,
  { draws, seed }: Draws,
): AndersonDarling {
  if (!(Number.isInteger(draws) && draws >= 1)) {
    throw new RangeError(`Cannot test a fit: the draws must be a whole number from 1, found ${draws}`);
  }
  const none = { statistic: null, pValue: null, draws: 0, redrawn: 0 };
  const sample = singlyCensored(lives);
  if ("refused" in sample) return { ...none, reason: sample.refused };
  const statistic = edfDistances(fittedSample(sample, fit)).andersonDarling;
  if (!Number.isFinite(statistic)) return { ...none, reason: "an age lies where the fitted curve has no chance left" };
  const watching = watchingOf(sample, fit);
  if (watching === null) return { ...none, statistic, reason: "counts of lives that are not whole can't be drawn" };
  const drawn = drawnDistances(watching, fit, { draws, seed });
  if (drawn === null) return { ...none, statistic, reason: "hardly any set drawn like this one allows a fit" };
  const further = drawn.distances.filter(({ andersonDarling }) => andersonDarling >= statistic).length;
  return { statistic, pValue: (1 + further) / (draws + 1), draws, redrawn: drawn.redrawn };
}

/** From here on the statistic's distribution hardly changes: Stephens' correction for the number of lives is 0.2 / sqrt(1000), 0.6 %. */
const MOST_FAILURES = 1000;

function watchingOf(sample: SinglyCensored, fit: FittedDistribution): Watching | null {
  const { age, end } = sample;
  if (!Number.isInteger(sample.size) || !Number.isInteger(sample.failures)) return null;
  const failures = Math.min(sample.failures, MOST_FAILURES);
  const size = Math.round((sample.size * failures) / sample.failures);
  if (end === null) return { size, all: true };
  if (end > age[age.length - 1]!) return { size, until: Math.exp(fittedSample(sample, fit).end!.logFailed) };
  return { size: Math.max(size, failures + 1), failures };
}

import { checkedLevel } from "../level.ts";
import { type ShareInterval, shareInterval } from "../measurements/share-interval.ts";
import { streamOf } from "../random/stream.ts";
import { countMoments } from "./count-moments.ts";
import { countTransform } from "./count-transform.ts";
import { pinballLoss } from "./pinball-loss.ts";

/** A forecast, and what came. */
export type ForecastCase = {
  /** Forecast chance of each count, from 0 on. */
  chances: Float64Array;
  /** What came: a whole number, 0 or more. */
  count: number;
};

/** How forecasts did. */
export type ForecastScores = {
  cases: number;
  /** Randomised probability-integral transform of each case. */
  transforms: Float64Array;
  /** Share of cases whose transform lies within the central `level`, with its limits: for a right forecast, near `level`. */
  coverage: ShareInterval;
  /** Mean forecast less what came, on average, in pieces; above 0 where too much is forecast. */
  bias: number;
  /** All that was forecast over all that came; null where nothing came. */
  ratio: number | null;
  /** Mean pinball loss at each of the quantiles asked for, in pieces. */
  loss: Float64Array;
};

/** What is asked of forecasts. */
export type ForecastQuestion = {
  /** Of the central interval: 0 < level < 1. */
  level: number;
  /** Quantiles for the pinball loss, each in (0, 1). */
  quantiles: readonly number[];
  /** Any whole number: of the numbers drawn for the transforms. */
  seed: number;
};

/** Level of the limits of a coverage. */
const COVERAGE_LEVEL = 0.95;

/**
 * Coverage, bias and pinball loss of forecasts against what came. Coverage is by randomised transforms, because a plain central interval
 * of a count covers more than it says: one of 80 % covers 92 % of Poisson counts of mean 1. Coverage needs cases whose windows don't overlap.
 * @param cases - forecasts and counts
 * @param question - level, quantiles and seed; case `n` of a seed has the same drawn number whatever the number of cases
 * @returns the scores; or why there are none
 * @throws RangeError for what are not chances, counts or levels
 * @see C. Czado, T. Gneiting & L. Held, Biometrics 65 (2009) 1254-1261
 * @example scoreForecasts([{ chances: poissonCounts(3), count: 4 }], { level: 0.8, quantiles: [0.5, 0.9], seed: 1 });
 */
export function scoreForecasts(
  cases: readonly ForecastCase[],
  { level, quantiles, seed }: ForecastQuestion,
): ForecastScores | { reason: string } {
  checkedLevel(level);
  if (cases.length === 0) return { reason: "there is no forecast whose time is over" };
  const transforms = Float64Array.from(cases, ({ chances, count }, number) =>
    countTransform(chances, count, streamOf(seed, number).uniform()),
  );
  const inside = transforms.filter((place) => Math.abs(place - 0.5) <= level / 2).length;
  const came = cases.reduce((sum, { count }) => sum + count, 0);
  const forecast = cases.reduce((sum, { chances }) => sum + countMoments(chances).mean, 0);
  const lossAt = (p: number) => cases.reduce((sum, { chances, count }) => sum + pinballLoss(chances, count, p), 0);
  return {
    cases: cases.length,
    transforms,
    coverage: shareInterval(inside, cases.length, COVERAGE_LEVEL),
    bias: (forecast - came) / cases.length,
    ratio: came > 0 ? forecast / came : null,
    loss: Float64Array.from(quantiles, (p) => lossAt(p) / cases.length),
  };
}

import { shareInterval } from "../stats/measurements/share-interval.ts";
import { countMoments } from "../stats/spares/count-moments.ts";
import { countQuantile } from "../stats/spares/count-quantile.ts";
import { intermittentForecast } from "../stats/spares/intermittent-forecast.ts";
import { lastUseForecast } from "../stats/spares/last-use-forecast.ts";
import { meanRateForecast } from "../stats/spares/mean-rate-forecast.ts";
import { type ForecastCase, scoreForecasts } from "../stats/spares/score-forecasts.ts";
import type { Estimate } from "./estimate.ts";
import type { BacktestCoverage, BacktestScore, BacktestSeries, RivalName } from "./spares-backtest-answer.ts";
import { REPLAYED_MONTHS } from "./spares-origins.ts";
import { QUANTILES } from "./spares-use.ts";

/** Central intervals that are looked at. */
export const LEVELS = [0.8, 0.95] as const;

/** Weight of the newest in the smoothing of intermittent demand: the usual one. */
const SMOOTHING = 0.1;
const LIMITS = 0.95;

/** One forecast from an origin, and what came. */
export type Replayed = {
  origin: string;
  to: string;
  isApart: boolean;
  /** Forecast chance of each count. */
  chances: Float64Array;
  /** Pieces used in each month before the origin. */
  past: Int32Array;
  used: number;
  usedByNew: number;
};

/** How the forecasts of one series did, beside those of its plain rivals. */
export function scoredSeries(replayed: Replayed[], seed: number): BacktestSeries {
  const lives = scoreOf(replayed, ({ chances }) => chances, seed);
  const rivals = Object.entries(RIVALS).map(([name, chancesOf]) => {
    const score = scoreOf(replayed, chancesOf, seed);
    return { name: name as RivalName, ...score, better: score.loss < lives.loss };
  });
  const { transforms } = scored(replayed, ({ chances }) => chances, LIMITS, seed);
  return {
    used: sumOf(replayed.map(({ used }) => used)),
    usedByNew: sumOf(replayed.map(({ usedByNew }) => usedByNew)),
    lives,
    rivals,
    windows: replayed.map(({ chances, past: _past, ...window }, at) => ({
      ...window,
      expected: { estimate: countMoments(chances).mean, ...central(chances, LIMITS) },
      inner: central(chances, LEVELS[0]),
      transform: transforms[at]!,
    })),
  };
}

/** Forecasts from the months of the past alone. */
const RIVALS: Record<RivalName, (replayed: Replayed) => Float64Array> = {
  "last year's use": ({ past }) => lastUseForecast(sumOf(past.subarray(-REPLAYED_MONTHS))),
  "mean rate": ({ past }) => meanRateForecast({ used: sumOf(past), exposure: past.length }, REPLAYED_MONTHS),
  "smoothed demand": ({ past }) => intermittentForecast(past, { smoothing: SMOOTHING, periods: REPLAYED_MONTHS }),
};

function scoreOf(replayed: Replayed[], chancesOf: (one: Replayed) => Float64Array, seed: number): BacktestScore {
  const { ratio, loss } = scored(replayed, chancesOf, LIMITS, seed);
  return {
    forecast: sumOf(replayed.map((one) => countMoments(chancesOf(one)).mean)) / replayed.length,
    ratio,
    loss: sumOf(loss) / loss.length,
    coverage: LEVELS.map((level) => coverageOf(replayed, chancesOf, level, seed)),
  };
}

/** The drawn numbers of transforms go by origin, so that those of windows apart are the ones of all. */
function coverageOf(
  replayed: Replayed[],
  chancesOf: (one: Replayed) => Float64Array,
  level: number,
  seed: number,
): BacktestCoverage {
  const { transforms } = scored(replayed, chancesOf, level, seed);
  const apart = replayed.flatMap((one, at) => (one.isApart ? [{ ...one, transform: transforms[at]! }] : []));
  const inside = apart.filter(({ transform }) => Math.abs(transform - 0.5) <= level / 2).length;
  const held = apart.filter((one) => {
    const { low, high } = central(chancesOf(one), level);
    return low <= one.used && one.used <= high;
  }).length;
  const share = (number: number): Estimate => shareInterval(number, apart.length, LIMITS);
  return { level, randomised: share(inside), plain: share(held) };
}

function scored(replayed: Replayed[], chancesOf: (one: Replayed) => Float64Array, level: number, seed: number) {
  const cases = replayed.map((one): ForecastCase => ({ chances: chancesOf(one), count: one.used }));
  const scores = scoreForecasts(cases, { level, quantiles: QUANTILES, seed });
  if ("reason" in scores) throw new RangeError(`Cannot score forecasts: ${scores.reason}`);
  return scores;
}

function central(chances: Float64Array, level: number): { low: number; high: number } {
  return { low: countQuantile(chances, (1 - level) / 2), high: countQuantile(chances, (1 + level) / 2) };
}

function sumOf(numbers: ArrayLike<number>): number {
  return Array.prototype.reduce.call<ArrayLike<number>, [(sum: number, one: number) => number, number], number>(
    numbers,
    (sum, one) => sum + one,
    0,
  );
}

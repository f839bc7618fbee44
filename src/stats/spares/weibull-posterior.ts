import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { drawnGamma } from "../random/drawn-gamma.ts";
import { streamOf } from "../random/stream.ts";
import { checkedAmount, checkedWhole } from "./check-chances.ts";
import type { WeibullDraws } from "./weibull-draws.ts";

/** What is taken of a law before its lives are looked at. */
export type WeibullPrior = {
  /** Median of the shape, above 0. */
  shape: number;
  /** Standard deviation of its log, above 0. */
  logShapeSd: number;
  /** Failures by the mean age of the lives that it counts for: 1/2 for a rate's reference prior, 0 to add none. */
  failures: number;
};

const GRID = 160;
/** Shapes of lives lie between these. */
const [LEAST_SHAPE, MOST_SHAPE] = [0.1, 30];

/**
 * Weibull laws drawn from the exact posterior of exact and right-censored lives, with late entry: the shape from its marginal on a grid, the
 * scale given the shape from a gamma. With a cumulative hazard H (t / t0)^shape, t0 the mean age at which lives end, log shape is normal
 * and H has the density H^(failures - 1) beforehand. For few failures that is nearer the truth than a normal law about the fit, which is
 * too sure and, of steep laws, too steep; with many the two are alike. Without a failure it says how few there may be.
 * The draw `n` of a seed is the same whatever the number of draws.
 * @param lives - exact or right-censored, entry and count as wanted; ages in one unit
 * @param prior - of shape and failures; with 0 failures in the prior and among the lives the slot never fails: scales are Infinity
 * @param options - `draws`: how many, from 1 on; `seed`: any whole number
 * @returns shapes and scales; or why there are none
 * @throws RangeError for columns that are not lives, or a prior or options out of range
 * @see Hamada, Wilson, Reese & Martz, Bayesian Reliability, ch. 4; R. M. Soland, IEEE Trans. Reliability R-18 (1969) 181-184 (gamma given the shape)
 * @example
 * const lives = { time: Float64Array.of(4000, 9000, 12000), failed: Uint8Array.of(1, 0, 0) };
 * weibullPosterior(lives, { shape: 1.5, logShapeSd: 0.5, failures: 0.5 }, { draws: 2000, seed: 1 });
 */
export function weibullPosterior(
  lives: Lives | IntervalLives,
  prior: WeibullPrior,
  { draws, seed }: { draws: number; seed: number },
): WeibullDraws | { reason: string } {
  checkPrior(prior);
  checkedWhole("a number of draws", draws, 1);
  if (!Number.isSafeInteger(seed)) throw new RangeError(`Cannot draw laws: the seed must be whole, found ${seed}`);
  const ages = agesOf(checkedLives(lives));
  if ("reason" in ages) return ages;
  const drawn = { shape: new Float64Array(draws), scale: new Float64Array(draws) };
  const events = ages.failures + prior.failures;
  const marginal = marginalOf(ages, prior);
  for (let draw = 0; draw < draws; draw++) {
    const stream = streamOf(seed, draw);
    const { logShape, logSum } = at(marginal, stream.uniform());
    const hazard = drawnGamma(events, stream) / Math.exp(logSum);
    const shape = Math.exp(logShape);
    drawn.shape[draw] = shape;
    drawn.scale[draw] = events === 0 ? Number.POSITIVE_INFINITY : scaleOf(ages.typical, hazard, shape);
  }
  return drawn;
}

function checkPrior({ shape, logShapeSd, failures }: WeibullPrior): void {
  checkedAmount("failures of a prior", failures);
  if (checkedAmount("shape of a prior", shape) === 0 || checkedAmount("spread of a prior", logShapeSd) === 0) {
    throw new RangeError("Cannot draw laws: the shape of a prior and its spread must be above 0");
  }
}

/** Farther than this from the ages of the lives a scale is no age any more. */
const FARTHEST = 1e9;

function scaleOf(typical: number, hazard: number, shape: number): number {
  return typical * Math.min(Math.max(hazard ** (-1 / shape), 1 / FARTHEST), FARTHEST);
}

/** Logs of ages over the typical one. */
type Ages = {
  typical: number;
  failures: number;
  logEnd: Float64Array;
  logEntry: Float64Array;
  count: Float64Array;
  /** Sum of the logs of the ages at failure. */
  logFailed: number;
};

function agesOf({ low, high, entry, count }: IntervalLives): Ages | { reason: string } {
  const times = count ?? new Float64Array(low.length).fill(1);
  const entries = entry ?? new Float64Array(low.length);
  const within = low.findIndex((age, life) => high[life]! > age && high[life]! < Number.POSITIVE_INFINITY);
  if (within >= 0) return { reason: "some lives are only known to have failed within an interval" };
  if (low.some((age, life) => age === 0 && high[life] === 0)) return { reason: "a life of no length failed" };
  let [lives, sum] = [0, 0];
  for (let life = 0; life < low.length; life++) {
    lives += times[life]!;
    sum += times[life]! * low[life]!;
  }
  if (!(sum > 0)) return { reason: "there is no life of any length" };
  const typical = sum / lives;
  const ages: Ages = {
    ...{ typical, failures: 0, logFailed: 0, count: times },
    logEnd: low.map((age) => Math.log(age / typical)),
    logEntry: entries.map((age) => Math.log(age / typical)),
  };
  for (let life = 0; life < low.length; life++) {
    if (high[life] !== low[life]) continue;
    ages.failures += times[life]!;
    ages.logFailed += times[life]! * ages.logEnd[life]!;
  }
  return ages;
}

/** On a grid of log shape: its chance up to there, and the log of the sum of (age / typical)^shape. */
type Marginal = { logShape: Float64Array; upTo: Float64Array; logSum: Float64Array };

function marginalOf(ages: Ages, prior: WeibullPrior): Marginal {
  const coarse = gridOver(ages, prior, [Math.log(LEAST_SHAPE), Math.log(MOST_SHAPE)]);
  // With many failures all lies within a few cells: those are looked at finely.
  const near = coarse.logShape.filter((_, cell) => coarse.density[cell]! > -NEGLIGIBLE);
  const step = coarse.logShape[1]! - coarse.logShape[0]!;
  const range = [Math.max(coarse.logShape[0]!, near[0]! - step), Math.min(coarse.logShape[GRID]!, near.at(-1)! + step)];
  const { logShape, logSum, density } = gridOver(ages, prior, range as [number, number]);
  const upTo = new Float64Array(GRID + 1);
  for (let cell = 1; cell <= GRID; cell++) {
    upTo[cell] = upTo[cell - 1]! + (Math.exp(density[cell - 1]!) + Math.exp(density[cell]!)) / 2;
  }
  return { logShape, upTo: upTo.map((sum) => sum / upTo[GRID]!), logSum };
}

/** Log densities so far below the highest say nothing. */
const NEGLIGIBLE = 18;

/** Log density of log shape over a range, the highest 0. */
function gridOver(
  ages: Ages,
  prior: WeibullPrior,
  [from, to]: [number, number],
): { logShape: Float64Array; logSum: Float64Array; density: Float64Array } {
  const logShape = Float64Array.from({ length: GRID + 1 }, (_, cell) => from + ((to - from) * cell) / GRID);
  const logSum = logShape.map((log) => Math.log(sumOfPowers(ages, Math.exp(log))));
  const { failures, logFailed } = ages;
  const density = logShape.map((log, cell) => {
    const away = (log - Math.log(prior.shape)) / prior.logShapeSd;
    return failures * log + Math.exp(log) * logFailed - (failures + prior.failures) * logSum[cell]! - (away * away) / 2;
  });
  const highest = density.reduce((most, one) => Math.max(most, one), Number.NEGATIVE_INFINITY);
  return { logShape, logSum, density: density.map((log) => log - highest) };
}

function sumOfPowers({ logEnd, logEntry, count }: Ages, shape: number): number {
  let sum = 0;
  for (let life = 0; life < logEnd.length; life++) {
    sum += count[life]! * (Math.exp(shape * logEnd[life]!) - Math.exp(shape * logEntry[life]!));
  }
  return sum;
}

/** Where the chance reaches a share, straight between grid points. */
function at({ logShape, upTo, logSum }: Marginal, share: number): { logShape: number; logSum: number } {
  let [low, high] = [0, GRID];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (upTo[middle]! <= share) low = middle;
    else high = middle;
  }
  const width = upTo[high]! - upTo[low]!;
  const part = width > 0 ? (share - upTo[low]!) / width : 0.5;
  const between = (column: Float64Array) => column[low]! + part * (column[high]! - column[low]!);
  return { logShape: between(logShape), logSum: between(logSum) };
}

import logGamma from "@stdlib/math-base-special-gammaln";
import { normalHalfWidth } from "../level.ts";
import { LEAST_RATIO } from "./count-chances.ts";
import { gammaLowerTail, gammaUpperTail } from "./gamma-tails.ts";

/** Gamma distribution of a ratio. */
type GammaRatio = { shape: number; rate: number };

/** Ratio of an entity given its count: of either group, the offenders' cut off below 2. */
export type MixedRatio = { ordinary: GammaRatio; offender: GammaRatio; probabilityOrdinary: number };

/** A group less likely than this moves nothing that is shown. */
const NEGLIGIBLE = 1e-10;

/** Mean of the ratio. */
export function meanRatio({ ordinary, offender, probabilityOrdinary }: MixedRatio): number {
  const mean = probabilityOrdinary * (ordinary.shape / ordinary.rate);
  if (1 - probabilityOrdinary < NEGLIGIBLE) return mean;
  const { shape, rate } = offender;
  const cut = LEAST_RATIO * rate;
  const lifted = gammaUpperTail(shape + 1, cut) / gammaUpperTail(shape, cut);
  return mean + (1 - probabilityOrdinary) * (shape / rate) * lifted;
}

/** The distribution function. */
function belowRatio({ ordinary, offender, probabilityOrdinary }: MixedRatio, above: number): (ratio: number) => number {
  return (ratio) => {
    const low = probabilityOrdinary * gammaLowerTail(ordinary.shape, ratio * ordinary.rate);
    if (above === 0 || ratio <= LEAST_RATIO) return low;
    return low + (1 - probabilityOrdinary) * (1 - gammaUpperTail(offender.shape, ratio * offender.rate) / above);
  };
}

/** Density of the log of the ratio. */
function densityOfLog({ ordinary, offender, probabilityOrdinary }: MixedRatio, above: number): (log: number) => number {
  const one = gammaDensityOfLog(ordinary);
  if (above === 0) return (log) => probabilityOrdinary * one(log);
  const other = gammaDensityOfLog(offender);
  const share = (1 - probabilityOrdinary) / above;
  return (log) => probabilityOrdinary * one(log) + (log > LOG_LEAST_RATIO ? share * other(log) : 0);
}

const LOG_LEAST_RATIO = Math.log(LEAST_RATIO);

function gammaDensityOfLog({ shape, rate }: GammaRatio): (log: number) => number {
  const constant = shape * Math.log(rate) - logGamma(shape);
  return (log) => Math.exp(constant + shape * log - rate * Math.exp(log));
}

/**
 * The ratio's quantiles: by Newton's method on the log scale, from the quantile that Wilson and Hilferty's cube root gives for the
 * likelier group; where that leads away, as between the groups, by the rule of false position, halving whenever one end stays. The
 * fraction below a limit is right to 1e-10.
 * @param tail - fraction below the lower one and above the upper, under 0.5
 */
export function ratioLimits(mixed: MixedRatio, tail: number): { low: number; high: number } {
  const { probabilityOrdinary, ordinary, offender } = mixed;
  const above = 1 - probabilityOrdinary < NEGLIGIBLE ? 0 : gammaUpperTail(offender.shape, LEAST_RATIO * offender.rate);
  const below = belowRatio(mixed, above);
  const density = densityOfLog(mixed, above);
  const likelier = probabilityOrdinary > 0.5 ? ordinary : offender;
  const width = normalHalfWidth(1 - 2 * tail);
  return {
    low: ratioAt(below, density, tail, nearRatio(likelier, -width)),
    high: ratioAt(below, density, 1 - tail, nearRatio(likelier, width)),
  };
}

function nearRatio({ shape, rate }: GammaRatio, z: number): number {
  const root = Math.max(1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape)), 0.1);
  return (shape / rate) * root ** 3;
}

/** Limits are right to this fraction of themselves. */
const CLOSE = 1e-8;
const MOST_STEPS = 200;

function ratioAt(below: (ratio: number) => number, density: (log: number) => number, p: number, near: number): number {
  let log = Math.log(near);
  for (let step = 0; step < MOST_NEWTON_STEPS; step++) {
    const off = below(Math.exp(log)) - p;
    if (Math.abs(off) < CLOSE_FRACTION) return Math.exp(log);
    const move = off / density(log);
    if (!(Math.abs(move) < LONGEST_MOVE)) break;
    log -= move;
  }
  return ratioBetween(below, p, near);
}

const MOST_NEWTON_STEPS = 8;
const LONGEST_MOVE = 0.5;

function ratioBetween(below: (ratio: number) => number, p: number, near: number): number {
  const off = (log: number) => below(Math.exp(log)) - p;
  const [from, to] = bracket(off, Math.log(near));
  const low = { at: from, off: off(from) };
  const high = { at: to, off: off(to) };
  // how often one end has stayed in a row: then the other is brought in by half
  let stayed = 0;
  for (let step = 0; step < MOST_STEPS && high.at - low.at > CLOSE && low.off < 0 && high.off > 0; step++) {
    const share = Math.abs(stayed) > 1 ? 0.5 : Math.min(Math.max(low.off / (low.off - high.off), 1e-3), 1 - 1e-3);
    const middle = low.at + share * (high.at - low.at);
    const found = off(middle);
    if (Math.abs(found) < CLOSE_FRACTION) return Math.exp(middle);
    Object.assign(found < 0 ? low : high, { at: middle, off: found });
    stayed = found < 0 ? Math.max(stayed, 0) + 1 : Math.min(stayed, 0) - 1;
  }
  return Math.exp((low.at + high.at) / 2);
}

/** Of the fraction below a limit. */
const CLOSE_FRACTION = 1e-10;

/** Two points about the start with the quantile between them. */
function bracket(off: (log: number) => number, start: number): [number, number] {
  let [low, high] = [start, start];
  const rising = off(start) < 0;
  for (let reach = 0.02; reach < 800; reach *= 2) {
    if (rising) {
      high = start + reach;
      if (off(high) >= 0) return [low, high];
      low = high;
    } else {
      low = start - reach;
      if (off(low) <= 0) return [low, high];
      high = low;
    }
  }
  return [low, high];
}

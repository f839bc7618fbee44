import type { Draws } from "../goodness/drawn-distances.ts";
import { streamOf } from "../random/stream.ts";
import { expByTable } from "../table-exp.ts";
import { logRatio } from "./power-law-exposure.ts";
import type { RecurrentEvents } from "./recurrent-events.ts";
import { conditionalAges } from "./trend/conditional-ages.ts";
import { type UnitHistory, unitHistories } from "./unit-histories.ts";

/** The statistic and its p-value; what does not exist is null, and `reason` says why. */
export type PowerLawGoodness = {
  /** Cramer-von Mises distance. */
  statistic: number | null;
  pValue: number | null;
  /** The beta, corrected for bias, of the curve that ages are held against. */
  beta: number | null;
  /** Events that count: not those that ended their unit's observation. */
  events: number;
  /** Units watched from age 0 that they are of. */
  units: number;
  /** Units with events that entered late: ages since age 0 are not known of them in full. */
  lateUnits: number;
  /** Sets drawn for the p-value. */
  draws: number;
  reason?: string;
};

/**
 * Whether events look as if they came at powers of age: the Cramer-von Mises statistic 1 / (12 M) + sum of ((t / T)^beta - (2 i - 1) / (2 M))^2 over the
 * M events in order of t / T, T the end of their unit's observation, beta = (M - 1) / sum of log(T / t). An event that ended the observation gives T and is not
 * counted. Each unit may have a lambda of its own, beta is one. The p-value, (1 + sets at least as far off) / (draws + 1), is by sets drawn from the law and
 * fitted anew: t / T is a power of an even number whatever beta is, so it holds for any. Over 1,000 events sets of 1,000 are drawn. A small p
 * speaks against the law, a large one does not prove it. Units that entered late are left out.
 * @param events - ages in one unit
 * @param bootstrap - draws (999 is usual) and seed
 * @returns statistic and p-value, or a reason
 * @throws RangeError for columns of unequal length, an unknown unit, an event outside its unit's observation, or draws that are no whole number from 1
 * @see MIL-HDBK-189 and IEC 61710 (from memory), for the statistic
 * @example powerLawGoodness(histories, { draws: 999, seed: 1 }); // ten repairs of the NIST/SEMATECH e-Handbook: { statistic: 0.05377, ... }
 */
export function powerLawGoodness(events: RecurrentEvents, { draws, seed }: Draws): PowerLawGoodness {
  if (!(Number.isInteger(draws) && draws >= 1)) {
    throw new RangeError(`Cannot test a fit: the draws must be a whole number from 1, found ${draws}`);
  }
  const all = unitHistories(events);
  const { histories, events: number } = conditionalAges(all.filter(({ entry }) => entry === 0));
  const basis = {
    events: number,
    units: histories.length,
    lateUnits: all.filter(({ entry, ages }) => entry > 0 && ages.length > 0).length,
  };
  const none = { statistic: null, pValue: null, beta: null, ...basis, draws: 0 };
  if (number < FEWEST) {
    const found = `${number} ${number === 1 ? "event lies" : "events lie"}`;
    return {
      ...none,
      reason: `${found} before the end of observation of units watched from age 0; ${FEWEST} are needed`,
    };
  }
  const { statistic, beta } = distanceOf(depthsOf(histories, number));
  if (beta === 0) return { ...none, reason: "an event lies at age 0, where the law gives no likelihood" };
  if (beta === Number.POSITIVE_INFINITY)
    return { ...none, reason: "all events lie at the end of their units' observation" };
  return { statistic, pValue: chanceOf(statistic, number, { draws, seed }), beta, ...basis, draws };
}

/** log(T / t) of the events, ascending. */
function depthsOf(histories: readonly UnitHistory[], number: number): Float64Array {
  const depths = new Float64Array(number);
  let next = 0;
  for (const { end, ages } of histories) {
    for (let at = 0; at < ages.length; at++) depths[next++] = -logRatio(ages[at]!, end);
  }
  return depths.sort();
}

function chanceOf(statistic: number, number: number, { draws, seed }: Draws): number {
  const size = Math.min(number, MOST_EVENTS);
  const gaps = drawnGaps(size, { draws, seed });
  let further = 0;
  for (let draw = 0; draw < draws; draw++) if (isAsFarOff(gaps[draw]!, size, statistic)) further++;
  return (1 + further) / (draws + 1);
}

/** Published critical values begin with 2, but there the statistic hardly varies. */
const FEWEST = 3;
/** From here on the statistic's distribution hardly changes. */
const MOST_EVENTS = 1000;

/** @param depths - log(T / t), ascending: from the last event to the first */
function distanceOf(depths: Float64Array): { statistic: number; beta: number } {
  const size = depths.length;
  let sum = 0;
  for (let at = 0; at < size; at++) sum += depths[at]!;
  const beta = (size - 1) / sum;
  let statistic = 1 / (12 * size);
  for (let at = 0; at < size; at++) {
    statistic += (expByTable(-beta * depths[at]!) - (2 * (size - at) - 1) / (2 * size)) ** 2;
  }
  return { statistic, beta };
}

/**
 * Whether a set drawn under the law is as far off as `statistic`, as `distanceOf` has it: depths are then exponential, in order each the one before it and an
 * exponential over the number still to come, so that their sum is that of the exponentials. What the events looked at come to is enough where it is that far.
 */
function isAsFarOff(gaps: Float64Array, size: number, statistic: number): boolean {
  let sum = 0;
  for (let at = 0; at < size; at++) sum += gaps[at]!;
  const beta = (size - 1) / sum;
  const step = 1 / size;
  let depth = 0;
  let far = 1 / (12 * size);
  for (let at = 0; at < size && far < statistic; at++) {
    depth += gaps[at]! / (size - at);
    const off = expByTable(-beta * depth) - (size - at - 0.5) * step;
    far += off * off;
  }
  return far >= statistic;
}

let drawn: { seed: number; gaps: Float64Array[] } = { seed: 0, gaps: [] };

/** Exponentials, a column a draw: those of one seed are the same for all sizes, and are kept for the next group of events. */
function drawnGaps(size: number, { draws, seed }: Draws): readonly Float64Array[] {
  if (drawn.seed !== seed || drawn.gaps.length !== draws) drawn = { seed, gaps: new Array(draws) };
  const { gaps } = drawn;
  if ((gaps[0]?.length ?? 0) >= size) return gaps;
  const room = Math.min(MOST_EVENTS, Math.ceil(size * SPARE));
  for (let draw = 0; draw < draws; draw++) {
    const stream = streamOf(seed, draw);
    gaps[draw] = new Float64Array(room).map(() => -Math.log1p(-stream.uniform()));
  }
  return gaps;
}

/** The next group has about as many events. */
const SPARE = 1.25;

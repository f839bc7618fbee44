import { type Counts, checkCounts, sumOf, watchedCounts } from "./counts.ts";
import { gatheredCounts } from "./gathered-counts.ts";
import { logFactorial } from "./log-factorial.ts";
import { byDifferences, quasiNewton } from "./quasi-newton.ts";

const LEAST_SD = 0.01;
const MOST_SD = 4;

/** A standard deviation of effects at a point of a search: its log lies within the bounds as a logistic curve does; 0 is 0.2. */
export function effectSdAt(x: number): number {
  return LEAST_SD * (MOST_SD / LEAST_SD) ** (1 / (1 + Math.exp(-x)));
}

/** How its log rises there. */
export function logSdSlopeAt(x: number): number {
  const share = 1 / (1 + Math.exp(-x));
  return Math.log(MOST_SD / LEAST_SD) * share * (1 - share);
}

/** What is the same for all entities of one kind. */
export type NormalSpread = {
  /** Log ratio of events to expected at an effect of 0. */
  level: number;
  /** Standard deviation of the effects; 0.01 stands for less too. */
  sd: number;
  /** With the effects integrated out by Laplace's approximation, no constant dropped. */
  logLikelihood: number;
};

/**
 * Level and spread of effects of one kind: events are Poisson about expected * exp(level + effect), effects normal about 0. Those of
 * greatest likelihood, the effects integrated out by Laplace's approximation.
 * @param counts - events, and the events expected as `exposure`; those of which nothing was expected tell nothing
 * @throws RangeError for columns that are not counts and expectations
 * @see N. E. Breslow & D. G. Clayton, J. Amer. Statist. Assoc. 88 (1993) 9-25
 * @example fitNormalSpread({ events: Float64Array.of(9, 3, 2, 10), exposure: Float64Array.of(4, 3, 2.5, 5) });
 */
export function fitNormalSpread(counts: Counts): NormalSpread {
  checkCounts(counts);
  const watched = watchedCounts(counts);
  const { events, exposure, weight } = gatheredCounts(watched);
  const logLikelihoodAt = (level: number, sd: number) => {
    let sum = 0;
    for (let row = 0; row < events.length; row++) {
      sum += weight[row]! * logMarginal(events[row]!, exposure[row]! * Math.exp(level), sd);
    }
    return sum;
  };
  // the plain ratio is near, on whatever scale exposures are
  const plain = Math.log(Math.max(sumOf(watched.events), 0.5) / sumOf(watched.exposure));
  const peak = quasiNewton(
    byDifferences(([by = 0, x = 0]) => logLikelihoodAt(plain + by, effectSdAt(x))),
    [0, 0],
  );
  const [by = 0, x = 0] = peak.at;
  return { level: plain + by, sd: effectSdAt(x), logLikelihood: peak.value };
}

const MOST_STEPS = 100;
const CLOSE = 1e-12;

/** Log chance of a count about `expected` times the exponential of a normal effect. */
function logMarginal(count: number, expected: number, sd: number): number {
  const precision = sd ** -2;
  // from the right of the root of a rising and convex slope Newton's steps go down to it
  let effect = Math.max(0, Math.min(Math.log((count + 1) / expected), count / precision));
  let mean = expected * Math.exp(effect);
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = (mean + precision * effect - count) / (mean + precision);
    effect -= move;
    mean = expected * Math.exp(effect);
    if (Math.abs(move) < CLOSE) break;
  }
  const logJoint = count * Math.log(mean) - mean - logFactorial(count) - (precision * effect ** 2) / 2;
  return logJoint - Math.log(sd) - Math.log(mean + precision) / 2;
}

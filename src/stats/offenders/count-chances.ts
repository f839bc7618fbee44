import { logNormalTail, normalTailSlope } from "../distribution/normal-tail.ts";
import { logFactorial } from "./log-factorial.ts";
import { risingSums } from "./rising-sums.ts";

/** Derivatives of the log of a chance: by the log of the expectation, and by that of the number that makes the law. */
export type ChanceSlopes = { byExpected: number; byOwn: number };

/** log of a chance of `events` where `expected` (above 0) are the ordinary expectation. Slopes are written where there is a place for them. */
export type LogChance = (events: number, expected: number, slopes?: ChanceSlopes) => number;

/** Chance of a count whose ratio to the expectation is gamma with mean 1 and coefficient of variation `spread`, above 0: negative binomial. */
export function ordinaryChance(spread: number): LogChance {
  const variance = spread ** 2;
  const sums = risingSums(variance);
  return (n, x, slopes) => {
    const logPast = Math.log1p(variance * x);
    const { value, first } = sums(n);
    if (slopes !== undefined) {
      const past = 1 + variance * x;
      slopes.byExpected = n - (x * (1 + n * variance)) / past;
      slopes.byOwn = 2 * (first - (x * (1 + n * variance)) / past + logPast / variance);
    }
    return value + n * Math.log(x) - n * logPast - logPast / variance - logFactorial(n);
  };
}

/** Shape of the offenders' gamma distribution: wide, with a coefficient of variation of 0.41 before it is cut. */
export const OFFENDER_SHAPE = 6;
/** An offender has at least so many times the ordinary rate. */
export const LEAST_RATIO = 2;

/**
 * Chance of a count whose ratio to the expectation is gamma of shape 6 and mean `mean`, cut off below 2:
 * negative binomial, times the chance that the ratio given the count is above 2, over the chance that it is so at all.
 */
export function offenderChance(mean: number): LogChance {
  const rate = OFFENDER_SHAPE / mean;
  const uncut = logPoissonBelow(OFFENDER_SHAPE, LEAST_RATIO * rate);
  const uncutFall = poissonFall(OFFENDER_SHAPE, LEAST_RATIO * rate, uncut);
  const logRate = Math.log(rate);
  return (n, x, slopes) => {
    const whole = rate + x;
    const ways = logFactorial(n + OFFENDER_SHAPE - 1) - LOG_WAYS - logFactorial(n);
    const uncutCount = ways + OFFENDER_SHAPE * (logRate - Math.log(whole)) + n * Math.log(x / whole);
    const below = logPoissonBelow(OFFENDER_SHAPE + n, LEAST_RATIO * whole);
    if (slopes !== undefined) {
      const fall = poissonFall(OFFENDER_SHAPE + n, LEAST_RATIO * whole, below);
      const ofWhole = (OFFENDER_SHAPE + n) / whole + LEAST_RATIO * fall;
      slopes.byExpected = n - x * ofWhole;
      slopes.byOwn = rate * (ofWhole - LEAST_RATIO * uncutFall) - OFFENDER_SHAPE;
    }
    return uncutCount + below - uncut;
  };
}

const LOG_WAYS = logFactorial(OFFENDER_SHAPE - 1);

/**
 * log of the chance that a Poisson count of mean x stays below k: log Q(k, x) for whole k. By its sum from the larger end; from
 * k = 1000 on by Wilson and Hilferty's cube root, which is right to 1e-4 there.
 */
function logPoissonBelow(k: number, x: number): number {
  if (k >= MANY) return logNormalTail(3 * Math.sqrt(k) * (1 - 1 / (9 * k) - Math.cbrt(x / k)));
  const top = (k - 1) * Math.log(x) - x - logFactorial(k - 1);
  if (x >= k) return top + Math.log(downwards(k, x));
  const above = Math.exp(top + Math.log(x / k)) * upwards(k, x);
  return Math.log1p(-Math.min(above, MOST_ABOVE));
}

/** How fast the log of that chance falls as x rises: the chance of k - 1 events over that of fewer than k. */
function poissonFall(k: number, x: number, logBelow: number): number {
  if (k < MANY) return Math.exp((k - 1) * Math.log(x) - x - logFactorial(k - 1) - logBelow);
  const root = Math.cbrt(x / k);
  return (normalTailSlope(3 * Math.sqrt(k) * (1 - 1 / (9 * k) - root)) * Math.sqrt(k) * root) / x;
}

const MANY = 1000;
const MOST_ABOVE = 1 - Number.EPSILON;
const NEGLIGIBLE = 1e-16;

/** 1 + (k - 1) / x + (k - 1) (k - 2) / x^2 + ... */
function downwards(k: number, x: number): number {
  let [term, sum] = [1, 1];
  for (let j = k - 1; j > 0 && term > sum * NEGLIGIBLE; j--) {
    term *= j / x;
    sum += term;
  }
  return sum;
}

/** 1 + x / (k + 1) + x^2 / ((k + 1) (k + 2)) + ... */
function upwards(k: number, x: number): number {
  let [term, sum] = [1, 1];
  for (let j = k + 1; term > sum * NEGLIGIBLE; j++) {
    term *= x / j;
    sum += term;
  }
  return sum;
}

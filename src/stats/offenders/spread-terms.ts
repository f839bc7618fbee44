import type { Counts } from "./counts.ts";
import { logFactorial } from "./log-factorial.ts";
import { risingSums } from "./rising-sums.ts";

/** Marginal log-likelihood of counts whose rates are gamma, with derivatives by m = log mean and v = log(1 / shape). */
export type SpreadTerms = { value: number; m: number; v: number; mm: number; vv: number; mv: number };

/**
 * Negative binomial log-likelihood: sum over k < events of log(1 + k V) + events log x - (events + 1 / V) log(1 + V x) - log events!,
 * with V = 1 / shape and x = mean * exposure; by V so that it goes over into Poisson's as V goes to 0.
 */
export function spreadTerms({ events, exposure }: Counts, logMean: number, logVariance: number): SpreadTerms {
  const variance = Math.exp(logVariance);
  const mean = Math.exp(logMean);
  const sums = risingSums(variance);
  const total = { value: 0, m: 0, v: 0, mm: 0, vv: 0, mv: 0 };
  for (let entity = 0; entity < events.length; entity++) {
    const n = events[entity]!;
    const x = mean * exposure[entity]!;
    const y = variance * x;
    const past = 1 + y;
    const share = y / past;
    const logPast = Math.log1p(y);
    const bow = y < SERIES_BELOW ? bowSeries(y) : logPast - share;
    const { value, first, second } = sums(n);
    total.value += value + n * Math.log(x) - n * logPast - logPast / variance - logFactorial(n);
    total.m += (n - x) / past;
    total.v += first + bow / variance - n * share;
    total.mm -= (x / past) * ((1 + n * variance) / past);
    total.vv += second - bow / variance + share * (share / variance) - (n * share) / past;
    total.mv -= ((n - x) / past) * share;
  }
  return total;
}

/** Below it log(1 + y) - y / (1 + y) cancels. */
const SERIES_BELOW = 0.01;

/** y^2 / 2 - 2 y^3 / 3 + 3 y^4 / 4 - ... */
function bowSeries(y: number): number {
  let sum = 0;
  for (let n = 9; n >= 2; n--) sum = (n - 1) / n - y * sum;
  return sum * y * y;
}

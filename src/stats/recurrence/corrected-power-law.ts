import { chiSquareQuantile } from "../chi-square-quantile.ts";
import type { Interval } from "../fit/quantity.ts";
import { checkedLevel, normalHalfWidth } from "../level.ts";
import { logRatio } from "./power-law-exposure.ts";
import type { RecurrentEvents } from "./recurrent-events.ts";
import { type UnitHistory, unitHistories } from "./unit-histories.ts";

/** The power law of one unit by the formulas for one unit; what does not exist is null, and `reason` says why. */
export type CorrectedPowerLaw = {
  /** How observation ended: at some time, or with an event. */
  ended: "time" | "event";
  /** Without the bias of the maximum-likelihood estimate. */
  beta: number;
  /** Events over end^beta; null beyond the range of numbers. */
  lambda: number | null;
  /** Exact limits of beta, about the maximum-likelihood estimate. */
  betaLimits: Interval;
  /** Mean time between events at the end, end / (events beta), with approximate limits; none where observation ended with an event. */
  meanTimeAtEnd: Interval;
};

/**
 * Bias-corrected power law of one unit watched from age 0: with N events and S the sum of log(end / t), beta = (N - 1) / S where observation ended
 * between events, (N - 2) / S where it ended with one. Exact limits of beta take 2 beta S as chi-square with 2 N, or 2 N - 2, degrees. The limits of the mean time at
 * the end, M N (N - 1) / (N + z^2 / 4 + sqrt(N z^2 / 2 + z^4 / 16))^2 and M N (N - 1) / (N - sqrt(N z^2 / 2))^2, are approximate.
 * @param events - of one unit; ages in one unit of time
 * @param level - confidence level of both limits, 0 < level < 1
 * @returns the estimates, or a reason
 * @throws RangeError for columns of unequal length, an unknown unit, an event outside its unit's observation, or a level out of range
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.2; (N - 2) and the exact limits: MIL-HDBK-189 (from memory)
 * @example correctedPowerLaw(repairs, 0.8); // ten repairs of the e-Handbook: { beta: 0.4835, meanTimeAtEnd: { estimate: 310.23, low: 157.71, high: 548.56 }, ... }
 */
export function correctedPowerLaw(events: RecurrentEvents, level: number): CorrectedPowerLaw | { reason: string } {
  checkedLevel(level);
  const found = onlyUnit(unitHistories(events));
  if ("reason" in found) return found;
  const { ended, number, end, logs } = found;
  const lost = LOST[ended];
  const beta = (number - lost) / logs;
  const tail = (1 - level) / 2;
  const degrees = 2 * (number + 1 - lost);
  const betaLimits = {
    estimate: number / logs,
    low: chiSquareQuantile(tail, degrees) / (2 * logs),
    high: chiSquareQuantile(1 - tail, degrees) / (2 * logs),
  };
  const lambda = Math.exp(Math.log(number) - beta * Math.log(end));
  const inRange = lambda > 0 && lambda < Number.POSITIVE_INFINITY;
  const meanTime = end / (number * beta);
  const meanTimeAtEnd =
    ended === "time"
      ? timeLimits(meanTime, number, level)
      : {
          estimate: meanTime,
          low: null,
          high: null,
          reason: "these limits are for observation that ended between events",
        };
  return { ended, beta, lambda: inRange ? lambda : null, betaLimits, meanTimeAtEnd };
}

/** Events that the correction takes off. */
const LOST = { time: 1, event: 2 } as const;

type OnlyUnit = { ended: "time" | "event"; number: number; end: number; logs: number };

function onlyUnit(units: readonly UnitHistory[]): OnlyUnit | { reason: string } {
  const unit = units[0];
  if (unit === undefined || units.length > 1) return { reason: `this is for one unit, and there are ${units.length}` };
  const { entry, end, ages } = unit;
  if (entry > 0) return { reason: "the unit was not watched from age 0" };
  const number = ages.length;
  const ended = ages[number - 1] === end ? "event" : "time";
  if (number <= LOST[ended]) return { reason: `there are too few events: ${LOST[ended] + 1} are needed` };
  if (ages[0] === 0) return { reason: "an event lies at age 0, where the law gives no likelihood" };
  const logs = -ages.reduce((sum, age) => sum + logRatio(age, end), 0);
  return logs > 0 ? { ended, number, end, logs } : { reason: "all events lie at the end of observation" };
}

function timeLimits(estimate: number, number: number, level: number): Interval {
  const z = normalHalfWidth(level);
  const top = estimate * number * (number - 1);
  const spread = (number * z ** 2) / 2;
  const low = top / (number + z ** 2 / 4 + Math.sqrt(spread + z ** 4 / 16)) ** 2;
  const left = number - Math.sqrt(spread);
  if (left > 0) return { estimate, low, high: top / left ** 2 };
  return { estimate, low, high: null, reason: "no upper limit: there are too few events for this level" };
}

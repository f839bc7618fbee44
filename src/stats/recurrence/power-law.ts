import { chiSquareTail } from "../chi-square-tail.ts";
import type { Interval } from "../fit/quantity.ts";
import { checkedLevel } from "../level.ts";
import { exposureAt, type LogWindows, logRatio, logWindows, type PowerLikelihood } from "./power-law-exposure.ts";
import { rootOfMean } from "./power-law-root.ts";
import { profileShapeInterval, waldShapeInterval } from "./power-law-shape-interval.ts";
import type { RecurrentEvents } from "./recurrent-events.ts";
import { type UnitHistory, unitHistories } from "./unit-histories.ts";

/** A power law fitted to events: intensity lambda beta t^(beta - 1) at age t, for every unit. */
export type ConvergedPowerLaw = {
  converged: true;
  /** Above 1: events come closer together as units age. */
  beta: number;
  /** Limits of beta by profile likelihood; a limit that does not exist is null, with the reason. */
  profileLimits: Interval;
  /** Limits of beta by the normal distribution on the log scale. */
  waldLimits: Interval;
  /** Log of lambda, for ages in the unit given. */
  logLambda: number;
  /** Events up to age 1, in the unit given; null beyond the range of numbers. */
  lambda: number | null;
  /** Age up to which a unit has one event on average, lambda^(-1 / beta); null beyond the range of numbers. */
  eta: number | null;
  logLikelihood: number;
  seBeta: number;
  seLogLambda: number;
  /** Of the estimates, from the observed information. */
  covariance: { logBeta: number; logLambda: number; both: number };
  /** Likelihood-ratio test of beta = 1, a constant rate: chi-square with 1 degree, its p, and the log-likelihood at that rate. */
  constantRate: { statistic: number; p: number; logLikelihood: number };
  events: number;
  /** Units that were watched for any time. */
  units: number;
  /** Service of all units. */
  exposure: number;
  /** Age of the unit watched to the highest age. */
  lastEnd: number;
};

/** A fit, or why there is none. */
export type PowerLawFit =
  | ConvergedPowerLaw
  | { converged: false; reason: string; events: number; units: number; exposure: number };

/**
 * Power-law process (non-homogeneous Poisson, after Crow) by maximum likelihood, of one unit or of several with one law: the log-likelihood is the sum of
 * log(lambda beta t^(beta - 1)) over events less the sum of lambda (T^beta - a^beta) over units watched from a to T, so that late entry counts for
 * what was seen. It is the same whether observation ended with an event or not. Repairs are taken to leave a unit as it was before; where units
 * differ in their rates the limits are too narrow, and the differing ages to which they were watched move beta.
 * @param events - ages in one unit
 * @param options - `level`: confidence level of the limits, 0 < level < 1
 * @returns estimates, limits and the test of a constant rate; or a reason
 * @throws RangeError for columns of unequal length, an unknown unit, an event outside its unit's observation, or a level out of range
 * @see IEC 61710 and L. H. Crow, Reliability analysis for complex, repairable systems, 1974 (from memory); NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.2
 * @example fitPowerLaw(histories, { level: 0.95 }); // ten repairs of the e-Handbook: { beta: 0.5372, lambda: 0.1967, eta: 20.64, ... }
 */
export function fitPowerLaw(events: RecurrentEvents, { level }: { level: number }): PowerLawFit {
  checkedLevel(level);
  const units = unitHistories(events);
  const windows = logWindows(units);
  const basis = {
    events: units.reduce((sum, { ages }) => sum + ages.length, 0),
    units: windows.end.length,
    exposure: units.reduce((sum, { entry, end }) => sum + (end - entry), 0),
  };
  const logs = sumOfLogs(units, windows.scale);
  const reason = refusal(basis.events, logs, windows);
  if (reason !== null) return { converged: false, reason, ...basis };
  const beta = rootOfMean(windows, logs / basis.events);
  return { ...estimatesAt(beta, { windows, logs, events: basis.events }, level), ...basis };
}

/** Sum of log(age / scale) over events. */
function sumOfLogs(units: readonly UnitHistory[], scale: number): number {
  let sum = 0;
  for (const { ages } of units) {
    for (let at = 0; at < ages.length; at++) sum += logRatio(ages[at]!, scale);
  }
  return sum;
}

function refusal(events: number, logs: number, windows: LogWindows): string | null {
  if (events === 0) return "there are no events";
  if (events === 1) return "one event alone shows no trend";
  if (!(logs > Number.NEGATIVE_INFINITY)) return "an event lies at age 0, where the law gives no likelihood";
  if (logs === 0) return "all events lie at the highest age observed, as under no power of age";
  // The likelihood falls for all powers when it falls from 0 on; from age 0 it rises there without limit.
  if (windows.width.every(Number.isFinite) && exposureAt(windows, 0, logs / events).mean >= 0) {
    return "events fall off with age faster than under any power law that holds from age 0";
  }
  return null;
}

function estimatesAt(
  beta: number,
  likelihood: PowerLikelihood,
  level: number,
): Omit<ConvergedPowerLaw, "events" | "units" | "exposure"> {
  const { windows, logs, events } = likelihood;
  const middle = logs / events;
  const best = exposureAt(windows, beta, middle);
  const constant = exposureAt(windows, 1, middle);
  const logScale = Math.log(windows.scale);
  const most = (power: number, logExposure: number) =>
    events * (Math.log(events) - logExposure - logScale - 1) + (power - 1) * logs;
  const logLambda = Math.log(events) - best.log - Math.log(beta) - beta * logScale;
  // log(lambda beta scale^beta) has variance 1 / events + middle^2 var(beta), its covariance with beta is -middle var(beta).
  const varBeta = 1 / (events * best.variance);
  const slope = -1 / beta - logScale - middle;
  const covariance = {
    logBeta: varBeta / beta ** 2,
    logLambda: 1 / events + slope ** 2 * varBeta,
    both: (slope * varBeta) / beta,
  };
  const statistic = Math.max(0, 2 * (events * (constant.log - best.log) + (beta - 1) * logs));
  return {
    converged: true,
    beta,
    profileLimits: profileShapeInterval(beta, best, likelihood, level),
    waldLimits: waldShapeInterval(beta, covariance.logBeta, level),
    logLambda,
    lambda: inRange(Math.exp(logLambda)),
    eta: inRange(Math.exp(-logLambda / beta)),
    logLikelihood: most(beta, best.log),
    seBeta: Math.sqrt(varBeta),
    seLogLambda: Math.sqrt(covariance.logLambda),
    covariance,
    constantRate: { statistic, p: chiSquareTail(statistic, 1), logLikelihood: most(1, constant.log) },
    lastEnd: windows.scale,
  };
}

function inRange(value: number): number | null {
  return value > 0 && value < Number.POSITIVE_INFINITY ? value : null;
}

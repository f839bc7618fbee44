import { normalHalfWidth } from "../level.ts";
import type { Lives } from "../lives.ts";
import { type CountedLives, countedLives, countedRiskColumns, startOfCounted } from "./risk-table.ts";
import { type LimitScale, survivalLimits } from "./survival-limits.ts";

/** A step of a survival curve: at an age where lives end, by failure or unfailed. */
export type CurveStep = {
  /** Age of the step. */
  time: number;
  /** Lives at risk just before `time`. */
  atRisk: number;
  /** Failures at `time`. */
  failed: number;
  /** Lives that ended unfailed at `time`. */
  censored: number;
  /** Fraction still unfailed just after `time`; under late entry, of those unfailed where the curve starts. */
  survival: number;
  /** Greenwood's standard error of `survival`; null once the survival is 0. */
  se: number | null;
  /** Lower limit; null where the survival is 0 or 1. */
  low: number | null;
  /** Upper limit, likewise. */
  high: number | null;
};

/** How a survival curve is to be drawn. */
export type CurveOptions = {
  /** Confidence level, 0 < level < 1. */
  level: number;
  /** Scale on which the limits are normal. */
  limits: LimitScale;
  /** Under late entry, lives at risk with which the curve starts (`curveStart` tells where); 1 where not given. */
  minimumAtRisk?: number;
};

/**
 * Kaplan-Meier estimate of survival for exact and right-censored lives, with late entry and counts.
 * S(t) = product over failure ages up to t of (1 - failed / at risk); failures come before removals at equal ages.
 * @param lives - exact or right-censored
 * @param options - level, scale of the limits, start under late entry
 * @returns a step for each age at which a life ends; none where the curve never starts
 * @throws RangeError for columns that are not lives, a late entry that is not before its end, or a level out of range
 * @see Klein & Moeschberger, Survival Analysis, ch. 4
 * @example kaplanMeier(lives, { level: 0.95, limits: "log-log" });
 */
export function kaplanMeier(lives: Lives, options: CurveOptions): CurveStep[] {
  return countedKaplanMeier(countedLives(lives), options);
}

/** The same of lives that are counted already. */
export function countedKaplanMeier(
  counted: CountedLives,
  { level, limits, minimumAtRisk = 1 }: CurveOptions,
): CurveStep[] {
  const z = normalHalfWidth(level);
  const start = startOfCounted(counted, minimumAtRisk);
  if (start === null) return [];
  let survival = 1;
  let sum = 0;
  const steps: CurveStep[] = [];
  const ages = countedRiskColumns(counted);
  for (let age = 0; age < ages.time.length; age++) {
    const time = ages.time[age]!;
    if (start > 0 && time <= start) continue;
    const atRisk = ages.atRisk[age]!;
    const failed = ages.failed[age]!;
    const censored = ages.censored[age]!;
    survival *= (atRisk - failed) / atRisk;
    sum += failed / (atRisk * (atRisk - failed));
    const error = Math.sqrt(sum);
    const { low, high } = survivalLimits(survival, error, z, limits);
    steps.push({ time, atRisk, failed, censored, survival, se: survival > 0 ? survival * error : null, low, high });
  }
  return steps;
}

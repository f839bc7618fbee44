import { normalHalfWidth } from "../level.ts";
import type { Lives } from "../lives.ts";
import { curveStart, riskTable } from "./risk-table.ts";

/** A step of the cumulative hazard: at an age where lives end, by failure or unfailed. */
export type HazardStep = {
  /** Age of the step. */
  time: number;
  /** Lives at risk just before `time`. */
  atRisk: number;
  /** Failures at `time`. */
  failed: number;
  /** Lives that ended unfailed at `time`. */
  censored: number;
  /** Failures that a life kept running would have had by `time`, were it put back as it was after each. */
  hazard: number;
  /** Square root of the sum of failed / at risk^2. */
  se: number;
  /** Lower limit; null before the first failure, where nothing has been seen to vary. */
  low: number | null;
  /** Upper limit, likewise. */
  high: number | null;
};

/** How a cumulative hazard is to be drawn. */
export type HazardOptions = {
  /** Confidence level, 0 < level < 1. */
  level: number;
  /** Scale on which the limits are normal. */
  limits: "log" | "plain";
  /** Under late entry, lives at risk with which the curve starts (`curveStart` tells where); 1 where not given. */
  minimumAtRisk?: number;
};

/**
 * Nelson-Aalen estimate of the cumulative hazard for exact and right-censored lives, with late entry and counts:
 * H(t) = sum over failure ages up to t of failed / at risk, with variance the sum of failed / at risk^2.
 * @param lives - exact or right-censored
 * @param options - level, scale of the limits, start under late entry
 * @returns a step for each age at which a life ends; none where the curve never starts
 * @throws RangeError for columns that are not lives, a late entry that is not before its end, or a level out of range
 * @see Klein & Moeschberger, Survival Analysis, ch. 4; O. Aalen, Annals of Statistics 6 (1978) 701-726
 * @example nelsonAalen(lives, { level: 0.95, limits: "log" });
 */
export function nelsonAalen(lives: Lives, { level, limits, minimumAtRisk = 1 }: HazardOptions): HazardStep[] {
  const z = normalHalfWidth(level);
  const start = curveStart(lives, minimumAtRisk);
  if (start === null) return [];
  let hazard = 0;
  let variance = 0;
  const steps: HazardStep[] = [];
  for (const { time, atRisk, failed, censored } of riskTable(lives)) {
    if (start > 0 && time <= start) continue;
    hazard += failed / atRisk;
    variance += failed / atRisk / atRisk;
    const se = Math.sqrt(variance);
    steps.push({ time, atRisk, failed, censored, hazard, se, ...hazardLimits(hazard, se, z, limits) });
  }
  return steps;
}

function hazardLimits(hazard: number, se: number, z: number, scale: HazardOptions["limits"]) {
  if (hazard === 0) return { low: null, high: null };
  if (scale === "plain") return { low: Math.max(0, hazard - z * se), high: hazard + z * se };
  const reach = Math.exp((z * se) / hazard);
  return { low: hazard / reach, high: hazard * reach };
}

import type { Aim } from "./aim.ts";
import { logRatio } from "./compared.ts";
import { type Following, failureChance } from "./failure-chance.ts";
import { failuresNeeded } from "./failures-needed.ts";
import { lifeRatioOf } from "./life-ratio.ts";
import { inWhole, type Whole } from "./whole.ts";

/** A trial of two groups: how the first lives and is followed, and how the second differs. */
export type TwoGroupTrial = Following & {
  /** Hazard of the second group over that of the first: above 0, not 1. */
  hazardRatio: number;
  /** Share of units in the first group: between 0 and 1. */
  share: number;
};

/** Size of a trial of two groups. */
export type TrialSize = {
  /** To be seen, in both groups together. */
  failures: Whole;
  /** Chance that a unit of the first, of the second group fails while it is followed. */
  chances: [number, number];
  /** To be started, in both groups together; null with a `reason` where next to none would fail. */
  units: Whole | null;
  reason?: string;
};

/**
 * Units that two groups need for the failures that show a hazard ratio: failures / (share P1 + (1 - share) P2), where P is the chance
 * that a unit fails while it is followed and lives of the second group are Weibull with scale * ratio^(-1 / shape).
 * @param trial - lives of the first group, accrual, follow-up, share and hazard ratio
 * @param aim - level and power
 * @returns failures, chances and units
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503
 * @example unitsNeeded({ hazardRatio: 2, share: 0.5, shape: 1.5, scale: 20000, accrual: 8760, followUp: 8760 }).failures.whole; // 66
 */
export function unitsNeeded(trial: TwoGroupTrial, aim: Aim = {}): TrialSize {
  const { hazardRatio, share, shape, scale, accrual, followUp } = trial;
  logRatio("hazard ratio", hazardRatio);
  const first = failureChance({ shape, scale, accrual, followUp });
  const second = failureChance({ shape, scale: scale * lifeRatioOf(hazardRatio, shape), accrual, followUp });
  const failures = failuresNeeded(hazardRatio, { share }, aim);
  const exact = failures.exact / (share * first + (1 - share) * second);
  const found = { failures, chances: [first, second] satisfies [number, number] };
  if (exact < Number.MAX_SAFE_INTEGER) return { ...found, units: inWhole(exact) };
  return { ...found, units: null, reason: "in the time that they are followed next to no units would fail" };
}

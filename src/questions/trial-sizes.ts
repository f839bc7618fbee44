import { failuresNeeded } from "../stats/trial/failures-needed.ts";
import { hazardRatioOf } from "../stats/trial/life-ratio.ts";
import { type SpendingLook, spendingBounds } from "../stats/trial/spending-bounds.ts";
import { trialDuration } from "../stats/trial/trial-duration.ts";
import { trialInflation } from "../stats/trial/trial-inflation.ts";
import type { TrialNeed } from "./trial-answer.ts";

/** How surely a trial is to see what there is, and how often it is looked at. */
export type TrialAim = { level: number; power: number; looks: number };

/** How a fleet lives now: Weibull in months, rebuilds a month, mean months until a build is taken out unfailed. */
export type FleetNow = { shape: number; scale: number; rebuildsPerMonth: number; removedAfter: number | null };

/** Failures that a trial with so many evenly spaced looks needs to see a ratio of lives. */
export function trialFailures(ratio: number, shape: number, { level, power, looks }: TrialAim): number {
  const { exact } = failuresNeeded(hazardRatioOf(ratio, shape), { share: 0.5 }, { level, power });
  const shares = Array.from({ length: looks }, (_, at) => at + 1);
  const bounds = looksOf(shares, looks, level).map(({ bound }) => bound);
  return Math.ceil(exact * trialInflation({ failures: shares, bounds }, { level, power }));
}

/** Failures at which to look, evenly spaced up to all. */
export function lookFailures(failures: number, looks: number): number[] {
  const found = Array.from({ length: looks }, (_, at) => Math.max(1, Math.round((failures * (at + 1)) / looks)));
  return [...new Set(found)];
}

/** The bound of each look. */
export function looksOf(failures: readonly number[], planned: number, level: number): SpendingLook[] {
  const bounds = spendingBounds(failures, { planned, level });
  if (bounds.looks === null) throw new RangeError(`Cannot plan looks: ${bounds.reason}`);
  return bounds.looks;
}

/** Failures, months and builds for a ratio of lives, where one arm lives as the fleet does now and the other that much longer. */
export function trialNeed(ratio: number, now: FleetNow, aim: TrialAim): TrialNeed {
  const failures = trialFailures(ratio, now.shape, aim);
  const arm = { rebuildsPerMonth: now.rebuildsPerMonth / 2, shape: now.shape };
  const arms = [
    { ...arm, scale: now.scale },
    { ...arm, scale: now.scale * ratio },
  ];
  const lasts = trialDuration({ arms, ...(now.removedAfter !== null && { removedAfter: now.removedAfter }) }, failures);
  if (lasts.months === null) return { ratio, failures, months: null, builds: null, reason: lasts.reason };
  return { ratio, failures, months: lasts.months, builds: Math.ceil(lasts.builds) };
}

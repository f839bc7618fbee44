import { orderOf } from "../order.ts";
import type { HazardModel } from "./hazard-model.ts";
import { type RiskSteps, stepByPlace } from "./risk-steps.ts";

/** Lives that are at risk at no failure any more as one goes back in time, because they entered only after it. */
export type LateEntries = {
  /** Places of the lives in the order in which they leave; null where all are there from the start. */
  leaving: Uint32Array | null;
  /** From and up to which of them leave at each step. */
  leaveFrom: Uint32Array;
  leaveEnd: Uint32Array;
  /** Places of lives that are at risk at no failure at all. */
  unseen: number[];
};

/** When lives that enter late are, going back, no longer at risk. */
export function lateEntries(
  { lives: { entry }, stratum }: HazardModel,
  place: Uint32Array,
  steps: RiskSteps,
): LateEntries {
  const leaveFrom = new Uint32Array(steps.time.length);
  const leaveEnd = new Uint32Array(steps.time.length);
  if (entry === undefined || !entry.some((age) => age > 0)) return { leaving: null, leaveFrom, leaveEnd, unseen: [] };
  const { late, unseen } = lateLives(entry, place, steps);
  const sorted = backwards(late, entry, stratum);
  const stratumOf = (life: number) => stratum?.[life] ?? 0;
  let next = 0;
  const goOnWhile = (holds: (life: number) => boolean) => {
    while (next < sorted.length && holds(sorted[next]!)) next++;
    return next;
  };
  for (let step = 0; step < leaveEnd.length; step++) {
    const [own, time] = [steps.stratum[step]!, steps.time[step]!];
    leaveFrom[step] = goOnWhile((life) => stratumOf(life) < own);
    leaveEnd[step] = goOnWhile((life) => stratumOf(life) === own && entry[life]! >= time);
  }
  return { leaving: Uint32Array.from(sorted, (life) => place[life]!), leaveFrom, leaveEnd, unseen };
}

/** Lives that enter late, and places of those that do so after the last failure that they could be at risk of. */
function lateLives(entry: Float64Array, place: Uint32Array, steps: RiskSteps): { late: number[]; unseen: number[] } {
  const stepAt = stepByPlace(steps, place.length);
  const unseen: number[] = [];
  const late: number[] = [];
  for (let life = 0; life < entry.length; life++) {
    const step = stepAt[place[life]!]!;
    if (entry[life] === 0 || step < 0) continue;
    if (entry[life]! >= steps.time[step]!) unseen.push(place[life]!);
    else late.push(life);
  }
  return { late, unseen };
}

/** By stratum, the latest entry first. */
function backwards(lives: number[], entry: Float64Array, stratum: Int32Array | undefined): number[] {
  const byEntry = Array.from(orderOf(Float64Array.from(lives, (life) => entry[life]!)), (at) => lives[at]!).reverse();
  if (stratum === undefined) return byEntry;
  return Array.from(orderOf(Float64Array.from(byEntry, (life) => stratum[life]!)), (at) => byEntry[at]!);
}

import type { RiskSets } from "./risk-sets.ts";

/** Of all at risk, what must outlast a failure for it not to be rounding. */
const ROUNDING = 1e-12;

/** Whether at some failure a life was at risk that outlasted it: else nothing is compared. */
export function anyOutlasted(sets: RiskSets): boolean {
  const { first, firstFailed, failing, stratum, leaving, leaveFrom, leaveEnd } = sets;
  let atRisk = 0;
  for (let step = 0; step < first.length; step++) {
    if (step > 0 && stratum[step] !== stratum[step - 1]) atRisk = 0;
    const before = atRisk;
    atRisk += weightOf(sets, first[step]!, firstFailed[step]!);
    for (let at = leaveFrom[step]!; at < leaveEnd[step]!; at++) atRisk -= sets.weight?.[leaving![at]!] ?? 1;
    if (atRisk > ROUNDING * (before + failing[step]!)) return true;
    atRisk += failing[step]!;
  }
  return false;
}

function weightOf({ weight }: RiskSets, from: number, to: number): number {
  if (weight === null) return to - from;
  let sum = 0;
  for (let place = from; place < to; place++) sum += weight[place]!;
  return sum;
}

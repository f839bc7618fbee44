import type { UnitHistory } from "../unit-histories.ts";

/**
 * Times between the events of a unit, in order. A unit watched from age 0 has one from there to its first event; of one that entered late
 * that time began before it was watched, and is left out, as is the time from the last event on.
 */
export function wholeGaps({ entry, ages }: UnitHistory): Float64Array {
  const starts = entry === 0 ? 1 : 0;
  const gaps = new Float64Array(Math.max(0, ages.length - 1 + starts));
  for (let at = 0; at < gaps.length; at++) gaps[at] = ages[at + 1 - starts]! - (ages[at - starts] ?? 0);
  return gaps;
}

/** Gaps of a unit that differ by no more are equal: what rounding of its ages can make of a difference. */
export function gapRounding({ end }: UnitHistory): number {
  return 4 * Number.EPSILON * end;
}

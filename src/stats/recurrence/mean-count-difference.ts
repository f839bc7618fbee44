import { normalHalfWidth } from "../level.ts";
import { type MeanCountStep, meanCumulativeFunction } from "./mean-count.ts";
import { meanCountAt } from "./mean-count-at.ts";
import { checkEvents, type RecurrentEvents } from "./recurrent-events.ts";

/** How much more the first of two groups counts up to an age than the second. */
export type MeanCountDifferenceStep = {
  /** Age at which either group has events, and both have units under observation. */
  time: number;
  /** Units of the first and of the second group under observation there. */
  underObservation: [number, number];
  /** Mean number of events a unit of the first and of the second group, over the ages at which both were watched. */
  means: [number, number];
  /** The first mean less the second. */
  estimate: number;
  /** Root of the sum of the two robust variances. */
  se: number;
  /** Lower limit, normal on the plain scale; null where `se` is 0, or is so for a group that has events. */
  low: number | null;
  /** Upper limit, likewise. */
  high: number | null;
};

/** Difference of two mean cumulative functions. */
export type MeanCountDifference = {
  /** By age. */
  steps: MeanCountDifferenceStep[];
  /** Events of either group at ages at which the other had no unit under observation: not compared. */
  leftOut: number;
  /** Why there are no steps. */
  reason?: string;
};

/**
 * Difference of the mean cumulative functions of two groups that share no unit. Only ages at which both groups have units
 * under observation count, for both: a mean that starts later, or ends earlier, is compared from and up to there.
 * Limits are normal from the robust errors, age by age; with few units in a group they are too narrow.
 * @param first - events of one group
 * @param second - events of the other
 * @param options - `level`: confidence level, 0 < level < 1
 * @returns a step for each age at which either group has events that count
 * @throws RangeError for columns of unequal length, an unknown unit, an event outside its unit's observation, or a level out of range
 * @see J. F. Lawless & C. Nadeau, Technometrics 37 (1995) 158-168; W. Nelson, Recurrent Events Data Analysis, 2003, ch. 7
 * @example meanCountDifference(oil, grease, { level: 0.95 });
 */
export function meanCountDifference(
  first: RecurrentEvents,
  second: RecurrentEvents,
  { level }: { level: number },
): MeanCountDifference {
  const z = normalHalfWidth(level);
  checkEvents(first);
  checkEvents(second);
  const watched = [watchedIn(first), watchedIn(second)] as const;
  const own = comparable(first, watched[1]);
  const other = comparable(second, watched[0]);
  const leftOut = own.leftOut + other.leftOut;
  const curves = [
    meanCumulativeFunction(own.events, { level }),
    meanCumulativeFunction(other.events, { level }),
  ] as const;
  const ages = Float64Array.from(new Set(curves.flatMap((steps) => steps.map(({ time }) => time)))).sort();
  if (ages.length === 0) {
    return { steps: [], leftOut, reason: "there are no events at ages at which both groups were under observation" };
  }
  const steps = Array.from(ages, (time) => {
    const underObservation: [number, number] = [watched[0](time), watched[1](time)];
    return { time, underObservation, ...differenceOf(meanCountAt(curves[0], time), meanCountAt(curves[1], time), z) };
  });
  return { steps, leftOut };
}

function differenceOf(
  first: MeanCountStep | null,
  second: MeanCountStep | null,
  z: number,
): Omit<MeanCountDifferenceStep, "time" | "underObservation"> {
  const means: [number, number] = [first?.estimate ?? 0, second?.estimate ?? 0];
  const estimate = means[0] - means[1];
  const se = Math.hypot(first?.se ?? 0, second?.se ?? 0);
  // A group with events whose error is 0 is one unit, or units all alike: it says nothing of how units differ.
  const known = first?.se !== 0 && second?.se !== 0;
  return { means, estimate, se, low: known ? estimate - z * se : null, high: known ? estimate + z * se : null };
}

/** How many units of a group are under observation at an age. */
function watchedIn({ entry, end }: RecurrentEvents): (age: number) => number {
  const entries = entry.slice().sort();
  const ends = end.slice().sort();
  return (age) => numberBelow(entries, age === 0 ? Number.MIN_VALUE : age) - numberBelow(ends, age);
}

function numberBelow(sorted: Float64Array, age: number): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >>> 1;
    if (sorted[middle]! < age) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** The events at ages at which the other group is watched too; the others are marked as not counted. */
function comparable(
  events: RecurrentEvents,
  otherWatched: (age: number) => number,
): { events: RecurrentEvents; leftOut: number } {
  const event = new Uint8Array(events.time.length);
  let leftOut = 0;
  for (let row = 0; row < event.length; row++) {
    if (events.event?.[row] === 0) continue;
    if (otherWatched(events.time[row]!) > 0) event[row] = 1;
    else leftOut++;
  }
  return { events: { ...events, event }, leftOut };
}

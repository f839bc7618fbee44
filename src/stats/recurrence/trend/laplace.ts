import type { RecurrentEvents } from "../recurrent-events.ts";
import { type UnitHistory, unitHistories } from "../unit-histories.ts";
import { conditionalAges } from "./conditional-ages.ts";
import { directionOf, NO_TEST, normalP, type TrendTest } from "./trend-test.ts";

/**
 * Laplace's test, of one unit or pooled over units: with n_i events of a unit watched from a_i to T_i, z = sum of (t - (a_i + T_i) / 2) over
 * the root of sum of n_i (T_i - a_i)^2 / 12. An event that ended the observation gives T_i and is not counted. No trend means here
 * that every unit has a constant rate of its own; gaps that are steadier or wilder than exponential ones make the p wrong (see `lewisRobinsonTest`),
 * and units that first run alone and then come back in turn look like a trend.
 * @param events - ages in one unit
 * @returns `statistic` is z, above 0 where events come closer together
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see D. R. Cox & P. A. W. Lewis, The Statistical Analysis of Series of Events, 1966, ch. 3; IEC 60605-6
 * @example laplaceTest(histories); // ten repairs of the NIST/SEMATECH e-Handbook: { statistic: -1.327, p: 0.1845, direction: "improving", ... }
 */
export function laplaceTest(events: RecurrentEvents): TrendTest {
  return laplaceOf(unitHistories(events));
}

/** The same of histories. */
export function laplaceOf(units: readonly UnitHistory[]): TrendTest {
  const { histories, events, reason } = conditionalAges(units);
  const basis = { events, units: histories.length };
  if (reason !== null) return { ...NO_TEST, ...basis, reason };
  const longest = histories.reduce((most, { entry, end }) => Math.max(most, end - entry), 0);
  let sum = 0;
  let variance = 0;
  for (const { entry, end, ages } of histories) {
    const length = (end - entry) / longest;
    for (let at = 0; at < ages.length; at++) sum += (ages[at]! - entry) / longest - length / 2;
    variance += (ages.length * length ** 2) / 12;
  }
  const statistic = sum / Math.sqrt(variance);
  return { statistic, p: normalP(statistic), direction: directionOf(statistic), ...basis };
}

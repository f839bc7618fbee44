import gammainc from "@stdlib/math-base-special-gammainc";
import { chiSquareTail } from "../../chi-square-tail.ts";
import { largeGamma } from "../../large-gamma.ts";
import type { RecurrentEvents } from "../recurrent-events.ts";
import { type UnitHistory, unitHistories } from "../unit-histories.ts";
import { conditionalAges } from "./conditional-ages.ts";
import { directionOf, NO_TEST, type TrendTest } from "./trend-test.ts";

/** Power-law trend test with its two tails. */
export type PowerLawTrend = TrendTest & {
  /** Chi-square degrees: two an event that counts. */
  degrees: number;
  /** Chance of a statistic so small at a constant rate: small where events come closer together. */
  lower: number | null;
  /** Chance of one so large: small where they come further apart. */
  upper: number | null;
};

/**
 * Power-law trend test, of one unit or pooled over units: 2 sum of log((T_i - a_i) / (t - a_i)) is chi-square with 2 degrees an
 * event where every unit watched from a_i to T_i has a constant rate of its own. An event that ended the observation gives T_i and is not counted.
 * For units watched from age 0 it is the best test against rates that go as a power of age. For one that entered late ages are counted
 * from its entry, which keeps the chi-square exact; the test is then weaker, for at a high age a rate changes little.
 * @param events - ages in one unit
 * @returns `statistic` is the chi-square, small where events come closer together
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see MIL-HDBK-189, Reliability Growth Management (from memory); NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4
 * @example powerLawTrendTest(histories); // ten repairs of the NIST/SEMATECH e-Handbook: { statistic: 37.228, degrees: 20, p: 0.022, direction: "improving", ... }
 */
export function powerLawTrendTest(events: RecurrentEvents): PowerLawTrend {
  return powerLawTrendOf(unitHistories(events));
}

/** The same of histories. */
export function powerLawTrendOf(units: readonly UnitHistory[]): PowerLawTrend {
  const { histories, events, reason } = conditionalAges(units);
  const basis = { events, units: histories.length, degrees: 2 * events };
  const none = { ...NO_TEST, ...basis, lower: null, upper: null };
  if (reason !== null) return { ...none, reason };
  let half = 0;
  for (const { entry, end, ages } of histories) {
    for (let at = 0; at < ages.length; at++) half += Math.log((end - entry) / (ages[at]! - entry));
  }
  if (half === Number.POSITIVE_INFINITY) return { ...none, reason: "an event lies at age 0, which has no logarithm" };
  const statistic = 2 * half;
  const lower = chiSquareBelow(statistic, basis.degrees);
  const upper = chiSquareTail(statistic, basis.degrees);
  const p = Math.min(1, 2 * Math.min(lower, upper));
  return { statistic, p, direction: directionOf(upper - lower), ...basis, lower, upper };
}

/** To full relative precision, as `chiSquareTail` is on the other side. */
function chiSquareBelow(value: number, degrees: number): number {
  if (degrees >= MANY && value > 0) return largeGamma(degrees / 2, value / 2).lower;
  return gammainc(value / 2, degrees / 2, true, false);
}

/** From 2,000 degrees on the library is off by up to 3 %. */
const MANY = 1000;

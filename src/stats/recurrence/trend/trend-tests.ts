import type { RecurrentEvents } from "../recurrent-events.ts";
import { type UnitHistory, unitHistories } from "../unit-histories.ts";
import { laplaceOf } from "./laplace.ts";
import { type LewisRobinson, lewisRobinsonOf } from "./lewis-robinson.ts";
import { type PowerLawTrend, powerLawTrendOf } from "./power-law-trend.ts";
import { type ReverseArrangements, reverseArrangementsOf } from "./reverse-arrangements.ts";
import type { TrendTest } from "./trend-test.ts";

/** Four tests for trend. The first two take every unit's rate as constant where there is none, the others take gaps of any distribution. */
export type TrendTests = {
  laplace: TrendTest;
  powerLaw: PowerLawTrend;
  lewisRobinson: LewisRobinson;
  reverseArrangements: ReverseArrangements;
};

/**
 * The four tests for trend, pooled over units. They agree on a strong trend; where only the first two see one, gaps that are not exponential
 * may be all there is.
 * @param events - of one unit or several; ages in one unit
 * @returns each test, with a reason where the data do not allow it
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see `laplaceTest`, `powerLawTrendTest`, `lewisRobinsonTest`, `reverseArrangementTest`
 * @example trendTests(histories).laplace.p;
 */
export function trendTests(events: RecurrentEvents): TrendTests {
  return testsOf(unitHistories(events));
}

/**
 * The four tests for trend of each unit alone. Read many of them only with an adjustment for their number, as by `benjaminiHochberg`.
 * @param events - ages in one unit
 * @returns tests of each unit, in the order of their numbers
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see `trendTests`
 * @example trendTestsByUnit(histories)[0]?.reverseArrangements.p;
 */
export function trendTestsByUnit(events: RecurrentEvents): TrendTests[] {
  return unitHistories(events).map((unit) => testsOf([unit]));
}

function testsOf(units: readonly UnitHistory[]): TrendTests {
  return {
    laplace: laplaceOf(units),
    powerLaw: powerLawTrendOf(units),
    lewisRobinson: lewisRobinsonOf(units),
    reverseArrangements: reverseArrangementsOf(units),
  };
}

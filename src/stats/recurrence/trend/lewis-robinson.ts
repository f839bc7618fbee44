import type { RecurrentEvents } from "../recurrent-events.ts";
import { type UnitHistory, unitHistories } from "../unit-histories.ts";
import { laplaceOf } from "./laplace.ts";
import { directionOf, NO_TEST, normalP, type TrendTest } from "./trend-test.ts";
import { gapRounding, wholeGaps } from "./whole-gaps.ts";

/** Lewis and Robinson's test, and for one unit its textbook form. */
export type LewisRobinson = TrendTest & {
  /** Laplace's z over the coefficient of variation of the whole gaps (divisor n - 1); null for several units, or where either does not exist. */
  laplaceOverVariation: number | null;
};

/**
 * Lewis and Robinson's trend test, of one unit or pooled over units, for gaps of any distribution: no trend means here that the gaps of a unit come
 * in no order. Per unit with gaps x_1 ... x_n, of mean m and variance s^2 (divisor n - 1), the sum of (n + 1 - j) (x_j - m) has mean 0 and variance
 * s^2 n (n^2 - 1) / 12 over all orders; z is the sum over units over the root of their variances. For one unit this is Laplace's statistic up to the last event
 * over the gaps' coefficient of variation, times sqrt(n / (n + 1)). The gaps' order says the same whether observation ended with an event or not.
 * The normal distribution is rough below some eight gaps in all: see `reverseArrangementTest`.
 * @param events - ages in one unit
 * @returns `statistic` is z, above 0 where events come closer together; `events` counts gaps
 * @throws RangeError for columns of unequal length, an unknown unit, or an event outside its unit's observation
 * @see P. A. W. Lewis & D. W. Robinson, Testing for a monotone trend in a modulated renewal process, 1974 (from memory); the variance over orders by hand
 * @example lewisRobinsonTest(histories).p;
 */
export function lewisRobinsonTest(events: RecurrentEvents): LewisRobinson {
  return lewisRobinsonOf(unitHistories(events));
}

/** The same of histories. */
export function lewisRobinsonOf(units: readonly UnitHistory[]): LewisRobinson {
  const longest = units.reduce((most, { entry, end }) => Math.max(most, end - entry), 0);
  const sums = { gaps: 0, units: 0, order: 0, variance: 0 };
  for (const unit of units) {
    const gaps = wholeGaps(unit);
    if (gaps.length < 2) continue;
    const { order, variance } = orderOfGaps(gaps, longest, gapRounding(unit));
    sums.gaps += gaps.length;
    sums.units++;
    sums.order += order;
    sums.variance += variance;
  }
  const basis = { events: sums.gaps, units: sums.units };
  const none = { ...NO_TEST, ...basis, laplaceOverVariation: null };
  if (sums.gaps === 0) return { ...none, reason: "no unit has two whole times between events" };
  if (!(sums.variance > 0)) return { ...none, reason: "the times between events of each unit are all equal" };
  const statistic = sums.order / Math.sqrt(sums.variance);
  const laplaceOverVariation = units.length === 1 ? textbookForm(units[0]!) : null;
  return { statistic, p: normalP(statistic), direction: directionOf(statistic), ...basis, laplaceOverVariation };
}

function orderOfGaps(gaps: Float64Array, scale: number, rounding: number): { order: number; variance: number } {
  const size = gaps.length;
  const { mean, squares } = spreadOf(gaps, scale, rounding);
  let order = 0;
  for (let at = 0; at < size; at++) order += ((size - 1) / 2 - at) * (gaps[at]! / scale - mean);
  return { order, variance: (squares * size * (size + 1)) / 12 };
}

/** Mean and sum of squares about it, in units of `scale`; gaps that are equal but for `rounding` have none. */
function spreadOf(gaps: Float64Array, scale: number, rounding: number): { mean: number; squares: number } {
  const size = gaps.length;
  const mean = gaps.reduce((sum, gap) => sum + gap / scale, 0) / size;
  const squares = gaps.reduce((sum, gap) => sum + (gap / scale - mean) ** 2, 0);
  return { mean, squares: squares > size * (rounding / scale) ** 2 ? squares : 0 };
}

function textbookForm(unit: UnitHistory): number | null {
  const { statistic } = laplaceOf([unit]);
  const gaps = wholeGaps(unit);
  const { mean, squares } = spreadOf(gaps, unit.end - unit.entry, gapRounding(unit));
  return statistic === null || squares === 0 ? null : (statistic * mean) / Math.sqrt(squares / (gaps.length - 1));
}

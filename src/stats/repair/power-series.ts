import { expByTable } from "../table-exp.ts";
import { addPowers, ORDER, sumsAround, type WideSeries } from "../weibull/wide-series.ts";
import type { PowerSums } from "./power-sums.ts";
import type { VirtualAges } from "./virtual-ages.ts";

/** The power sums of the gaps at one degree, for shapes around one: those of the ends less those of the starts. */
export type PowerSeries = { series: WideSeries; l: number; largest: number };

/** How much larger the sum of the ends alone may be: a hundredfold costs two digits of fifteen. */
const MOST_CANCELLED = 100;

/**
 * One pass over the gaps, from which the sums at all shapes near follow.
 * @param ages - of the degree
 * @returns null where gaps are so short beside the ages that their differences would lose digits
 */
export function powerSeries(
  { logTo, logGain, largest }: VirtualAges,
  failed: Uint8Array,
  shape: number,
): PowerSeries | null {
  const sums = new Float64Array(ORDER + 1);
  let l = 0;
  let ends = 0;
  let starts = 0;
  for (let gap = 0; gap < failed.length; gap++) {
    const to = logTo[gap]!;
    const upper = expByTable(shape * to);
    ends += upper;
    addPowers(sums, to, upper);
    if (failed[gap] === 1) l += to;
    const from = to - logGain[gap]!;
    if (from > Number.NEGATIVE_INFINITY) starts -= addPowers(sums, from, -expByTable(shape * from));
  }
  if (!(ends <= MOST_CANCELLED * sums[0]!)) return null;
  return { series: { at: { level: 0, shape }, sums, magnitude: sums[ORDER]! + 2 * starts }, l, largest };
}

const around = { zero: 0, one: 0, two: 0 };

/** The sums at a shape, without derivatives by the degree; null where the series does not reach it. */
export function powerSumsAround({ series, l, largest }: PowerSeries, shape: number): PowerSums | null {
  if (!sumsAround(series, 0, shape, around)) return null;
  return { s: around.zero, sk: around.one, skk: around.two, l, sq: 0, sqk: 0, sqq: 0, lq: 0, lqq: 0, largest };
}

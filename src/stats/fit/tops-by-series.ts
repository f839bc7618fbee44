import type { IntervalLives } from "../lives.ts";
import { expByTable } from "../table-exp.ts";
import { bestBySeries } from "../weibull/best-by-series.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import type { LevelAndShape } from "../weibull/log-likelihood.ts";
import { addPowers, ORDER, sumsAround, type WideSeries, wideSeries } from "../weibull/wide-series.ts";
import type { Point } from "./constraint.ts";

/**
 * Tops of the Weibull likelihood of lives, none of which failed within an interval, that each lack a cluster: the hazard sums of the others are
 * those of all less the cluster's, so that each life is looked at once.
 * @param gathered - of all lives
 * @param at - their top
 * @returns what finds the top without the rows of a cluster; null where it does not lie within reach of the series
 */
export function topsBySeries(
  lives: IntervalLives,
  gathered: GatheredLives,
  at: LevelAndShape,
): (rows: readonly number[]) => Point | null {
  const { typicalLog } = gathered;
  const all = wideSeries(gathered, at);
  const sums = new Float64Array(ORDER + 1);
  const rest: WideSeries = { at, sums, magnitude: all.magnitude };
  return (rows) => {
    sums.set(all.sums);
    const failed = takeOut(sums, lives, rows, { at, typicalLog });
    const found = bestBySeries(
      {
        typicalLog,
        exact: gathered.exact - failed.exact,
        exactSum: gathered.exactSum - failed.exactSum,
        sumsAt: (level, shape, out) => sumsAround(rest, level, shape, out),
      },
      at.shape,
    );
    return found === null ? null : { a: typicalLog - found.at.level / found.at.shape, e: Math.log(found.at.shape) };
  };
}

/** Takes the terms of rows out of hazard sums; how many of them failed, and the sum of their log ages about the typical one. */
function takeOut(
  sums: Float64Array,
  { low, high, entry, count }: IntervalLives,
  rows: readonly number[],
  { at, typicalLog }: { at: LevelAndShape; typicalLog: number },
): { exact: number; exactSum: number } {
  const take = (age: number, times: number): number => {
    const z = Math.log(age) - typicalLog;
    addPowers(sums, z, -times * expByTable(at.level + at.shape * z));
    return z;
  };
  let exact = 0;
  let exactSum = 0;
  for (const row of rows) {
    const lives = count?.[row] ?? 1;
    if (low[row] === 0 || lives === 0) continue;
    const z = take(low[row]!, lives);
    if (high[row] === low[row]) {
      exact += lives;
      exactSum += lives * z;
    }
    if (entry !== undefined && entry[row]! > 0) take(entry[row]!, -lives);
  }
  return { exact, exactSum };
}

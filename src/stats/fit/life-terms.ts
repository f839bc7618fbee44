import type { IntervalLives } from "../lives.ts";
import { type Tally, tally } from "../tally.ts";
import { ticksOf } from "../ticks.ts";
import { intervalTerms } from "../weibull/interval-terms.ts";
import type { LogAges, LogTerms } from "./log-terms.ts";

/** Sums up checked lives by their ages. */
export function lifeTerms(columns: IntervalLives): LogTerms {
  const { low, high, entry, count } = columns;
  const ticks = ticksOf(low);
  const endsWhere = (is: (life: number) => boolean) => {
    const flags = new Uint8Array(low.length);
    for (let life = 0; life < low.length; life++) flags[life] = is(life) ? 1 : 0;
    return logAges(tally({ values: low, count, flags, is: 1 }, ticks));
  };
  const within = intervalTerms(columns);
  return {
    exact: endsWhere((life) => high[life] === low[life]),
    removed: endsWhere((life) => high[life] === Number.POSITIVE_INFINITY),
    entered: entry === undefined ? NONE : logAges(tally({ values: entry, count }, ticksOf(entry))),
    within: { low: within.low.map(Math.log), high: within.high.map(Math.log), count: within.count },
  };
}

const NONE: LogAges = { log: new Float64Array(0), count: new Float64Array(0) };

/** An age of 0 says nothing: all are unfailed then. */
function logAges({ value, count }: Tally): LogAges {
  const first = value[0] === 0 ? 1 : 0;
  return { log: value.subarray(first).map(Math.log), count: count.subarray(first) };
}

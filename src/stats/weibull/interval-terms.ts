import type { IntervalLives } from "../lives.ts";

/** Left- and interval-censored lives: each pair of ends once, with the number of lives it holds. */
export type IntervalTerms = {
  /** 0: left-censored. */
  low: Float64Array;
  high: Float64Array;
  count: Float64Array;
};

export function intervalTerms({ low, high, count }: IntervalLives): IntervalTerms {
  const byEnds = new Map<number, Map<number, number>>();
  for (let life = 0; life < low.length; life++) {
    if (high[life] === low[life] || high[life] === Number.POSITIVE_INFINITY) continue;
    const lives = count?.[life] ?? 1;
    if (lives === 0) continue;
    const byHigh = byEnds.get(low[life]!) ?? new Map<number, number>();
    byEnds.set(low[life]!, byHigh.set(high[life]!, (byHigh.get(high[life]!) ?? 0) + lives));
  }
  const terms = [...byEnds].flatMap(([from, byHigh]) => [...byHigh].map(([to, lives]) => [from, to, lives] as const));
  return {
    low: Float64Array.from(terms, ([from]) => from),
    high: Float64Array.from(terms, ([, to]) => to),
    count: Float64Array.from(terms, ([, , lives]) => lives),
  };
}

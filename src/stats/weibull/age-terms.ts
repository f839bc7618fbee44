import type { IntervalLives } from "../lives.ts";
import { type Ticks, ticksOf } from "../ticks.ts";

/** Exact, right-censored and late-entry terms of the likelihood by age; ages may repeat where merging doesn't pay. */
export type AgeTerms = {
  age: Float64Array;
  /** Lives that end at the age less lives that enter at it: how often the cumulative hazard there counts. */
  weight: Float64Array;
  /** Exact failures at the age. */
  exact: Float64Array;
};

/** Sums lives of equal age where ages are whole ticks, which is exact; else each life and each late entry is a term. */
export function ageTerms(lives: IntervalLives): AgeTerms {
  const ticks = ticksOf(lives.low, lives.entry ?? new Float64Array(0));
  return ticks === null ? eachApart(lives) : summed(lives, ticks);
}

function summed({ low, high, entry, count }: IntervalLives, { perUnit, largest }: Ticks): AgeTerms {
  const weight = new Float64Array(largest + 1);
  const exact = new Float64Array(largest + 1);
  for (let life = 0; life < low.length; life++) {
    const lives = count === undefined ? 1 : count[life]!;
    const tick = Math.round(low[life]! * perUnit);
    if (high[life] === Number.POSITIVE_INFINITY) weight[tick]! += lives;
    else if (high[life] === low[life]) {
      weight[tick]! += lives;
      exact[tick]! += lives;
    }
  }
  for (let life = 0; entry !== undefined && life < entry.length; life++) {
    weight[Math.round(entry[life]! * perUnit)]! -= count === undefined ? 1 : count[life]!;
  }
  weight[0] = 0;
  const used = Uint32Array.from(weight.keys()).filter((tick) => weight[tick] !== 0 || exact[tick] !== 0);
  const pick = (column: Float64Array) => Float64Array.from(used, (tick) => column[tick]!);
  return { age: Float64Array.from(used, (tick) => tick / perUnit), weight: pick(weight), exact: pick(exact) };
}

function eachApart({ low, high, entry, count }: IntervalLives): AgeTerms {
  const age: number[] = [];
  const weight: number[] = [];
  const exact: number[] = [];
  const add = (at: number, lives: number, failed: number) => {
    age.push(at);
    weight.push(lives);
    exact.push(failed);
  };
  for (let life = 0; life < low.length; life++) {
    const lives = count?.[life] ?? 1;
    if (high[life] === low[life]) add(low[life]!, lives, lives);
    else if (high[life] === Number.POSITIVE_INFINITY) add(low[life]!, lives, 0);
    if (entry !== undefined && entry[life]! > 0) add(entry[life]!, -lives, 0);
  }
  return { age: Float64Array.from(age), weight: Float64Array.from(weight), exact: Float64Array.from(exact) };
}

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

function summed(lives: IntervalLives, { perUnit, largest }: Ticks): AgeTerms {
  const { low, high, entry } = lives;
  const count = countOf(lives);
  const weight = new Float64Array(largest + 1);
  const exact = new Float64Array(largest + 1);
  for (let life = 0; life < low.length; life++) {
    const tick = Math.round(low[life]! * perUnit);
    if (endsKnown(lives, life)) weight[tick]! += count[life]!;
    if (high[life] === low[life]) exact[tick]! += count[life]!;
  }
  for (let life = 0; entry !== undefined && life < entry.length; life++) {
    weight[Math.round(entry[life]! * perUnit)]! -= count[life]!;
  }
  weight[0] = 0;
  return usedTicks(weight, exact, perUnit);
}

function countOf({ low, count }: IntervalLives): Float64Array {
  return count ?? new Float64Array(low.length).fill(1);
}

/** Failed at a known age, or unfailed to the last: the end is one age. */
function endsKnown({ low, high }: IntervalLives, life: number): boolean {
  return high[life] === low[life] || high[life] === Number.POSITIVE_INFINITY;
}

function usedTicks(weight: Float64Array, exact: Float64Array, perUnit: number): AgeTerms {
  const age = new Float64Array(weight.length);
  let size = 0;
  for (let tick = 0; tick < weight.length; tick++) {
    if (weight[tick] === 0 && exact[tick] === 0) continue;
    age[size] = tick / perUnit;
    weight[size] = weight[tick]!;
    exact[size++] = exact[tick]!;
  }
  return { age: age.slice(0, size), weight: weight.slice(0, size), exact: exact.slice(0, size) };
}

function eachApart(lives: IntervalLives): AgeTerms {
  const { low, high, entry } = lives;
  const count = countOf(lives);
  const entries = entry ?? new Float64Array(0);
  const age = new Float64Array(low.length + entries.length);
  const weight = new Float64Array(age.length);
  const exact = new Float64Array(age.length);
  let size = 0;
  for (let life = 0; life < low.length; life++) {
    if (!endsKnown(lives, life)) continue;
    age[size] = low[life]!;
    weight[size] = count[life]!;
    exact[size] = high[life] === low[life] ? weight[size]! : 0;
    size++;
  }
  for (let life = 0; life < entries.length; life++) {
    if (entries[life] === 0) continue;
    age[size] = entries[life]!;
    weight[size++] = -count[life]!;
  }
  return { age: age.slice(0, size), weight: weight.slice(0, size), exact: exact.slice(0, size) };
}

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

/** Ticks a life from which few lives share one: looking through the ticks would take longer than summing saves. */
const SPARSE = 4;

/** Sums lives of equal age where ages are whole ticks, which is exact, and not too many of them; else each life and each late entry is a term. */
export function ageTerms(lives: IntervalLives): AgeTerms {
  const ticks = ticksOf(lives.low, lives.entry ?? new Float64Array(0));
  return ticks === null || ticks.largest > SPARSE * Math.max(lives.low.length, ALWAYS)
    ? eachApart(lives)
    : summed(lives, ticks);
}

/** So few ticks are always looked through. */
const ALWAYS = 250;

function summed({ low, high, entry, count }: IntervalLives, { perUnit, largest }: Ticks): AgeTerms {
  const weight = new Float64Array(largest + 1);
  const exact = new Float64Array(largest + 1);
  for (let life = 0; life < low.length; life++) {
    const tick = Math.round(low[life]! * perUnit);
    const lives = livesIn(count, life);
    if (high[life] === low[life]) exact[tick]! += lives;
    else if (high[life] === Number.POSITIVE_INFINITY) weight[tick]! += lives;
  }
  for (let tick = 0; tick < exact.length; tick++) weight[tick]! += exact[tick]!;
  for (let life = 0; entry !== undefined && life < entry.length; life++) {
    weight[Math.round(entry[life]! * perUnit)]! -= livesIn(count, life);
  }
  weight[0] = 0;
  return usedTicks(weight, exact, perUnit);
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

function eachApart({ low, high, entry = NONE, count }: IntervalLives): AgeTerms {
  const age = new Float64Array(low.length + entry.length);
  const weight = new Float64Array(age.length);
  const exact = new Float64Array(age.length);
  let size = 0;
  for (let life = 0; life < low.length; life++) {
    const failed = high[life] === low[life];
    if (!failed && high[life] !== Number.POSITIVE_INFINITY) continue;
    age[size] = low[life]!;
    weight[size] = livesIn(count, life);
    exact[size] = failed ? weight[size]! : 0;
    size++;
  }
  for (let life = 0; life < entry.length; life++) {
    age[size] = entry[life]!;
    weight[size] = -livesIn(count, life);
    if (entry[life] !== 0) size++;
  }
  return { age: age.subarray(0, size), weight: weight.subarray(0, size), exact: exact.subarray(0, size) };
}

function livesIn(count: Float64Array | undefined, row: number): number {
  return count === undefined ? 1 : count[row]!;
}

const NONE = new Float64Array(0);

import { labelledTally } from "../labelled-tally.ts";
import { riskColumns } from "../survival/risk-table.ts";
import type { CauseLives } from "./cause-lives.ts";

/** Ages at which lives end, and the lives by the ages at which they are at risk. */
export type WatchedLives = {
  time: Float64Array;
  /** Lives at risk just before each age, and failures at it of all causes. */
  atRisk: Float64Array;
  failed: Float64Array;
  /** Survival of all causes just before each age. */
  survival: Float64Array;
  /** Lives alike, a row each: the number of the first age at which they are at risk, of that at which they end, cause (-1: none), count. */
  from: Uint32Array;
  to: Uint32Array;
  cause: Int32Array;
  count: Float64Array;
};

/** Lives as they are seen from an age on: those that end by then left out, the others entering no earlier. */
export function watchedFrom(all: CauseLives, start: number): WatchedLives {
  const lives = all.entry === undefined ? all : livesBeyond(all, start);
  const { time, atRisk, failed } = riskColumns(lives);
  const survival = new Float64Array(time.length).fill(1);
  for (let age = 1; age < time.length; age++) {
    survival[age] = survival[age - 1]! * ((atRisk[age - 1]! - failed[age - 1]!) / atRisk[age - 1]!);
  }
  const spells = lives.entry === undefined ? countedSpells(lives) : lateSpells(lives, lives.entry, time);
  return { time, atRisk, failed, survival, ...spells };
}

type Spells = Pick<WatchedLives, "from" | "to" | "cause" | "count">;

function countedSpells({ time, cause, count }: CauseLives): Spells {
  const label = cause.map((number) => number + 1);
  const labels = label.reduce((most, one) => Math.max(most, one), 0) + 1;
  const cells = labelledTally({ values: time, label, labels, count });
  const to = new Uint32Array(cells.label.length);
  for (let age = 0; age < cells.value.length; age++) to.fill(age, cells.start[age], cells.start[age + 1]);
  return { from: new Uint32Array(to.length), to, cause: cells.label.map((one) => one - 1), count: cells.count };
}

function lateSpells({ time, cause, count }: CauseLives, entry: Float64Array, ages: Float64Array): Spells {
  return {
    from: Uint32Array.from(entry, (age) => (age === 0 ? 0 : agesUpTo(ages, age))),
    to: Uint32Array.from(time, (age) => agesUpTo(ages, age) - 1),
    cause,
    count: count ?? new Float64Array(time.length).fill(1),
  };
}

/** How many of ascending ages are at or below one. */
function agesUpTo(ages: Float64Array, age: number): number {
  let low = 0;
  let high = ages.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ages[middle]! <= age) low = middle + 1;
    else high = middle;
  }
  return low;
}

function livesBeyond({ time, failed, cause, entry, count }: CauseLives, start: number): CauseLives {
  const all = new Uint32Array(time.length);
  let size = 0;
  for (let life = 0; life < time.length; life++) {
    if ((start === 0 || time[life]! > start) && count?.[life] !== 0) all[size++] = life;
  }
  const rows = all.subarray(0, size);
  const pick = <T extends Float64Array | Uint8Array | Int32Array>(from: T, to: T): T => {
    for (let row = 0; row < size; row++) to[row] = from[rows[row]!]!;
    return to;
  };
  const entered = pick(entry ?? new Float64Array(time.length), new Float64Array(size));
  for (let row = 0; row < size; row++) entered[row] = Math.max(start, entered[row]!);
  return {
    time: pick(time, new Float64Array(size)),
    failed: pick(failed, new Uint8Array(size)),
    cause: pick(cause, new Int32Array(size)),
    entry: entered,
    ...(count && { count: pick(count, new Float64Array(size)) }),
  };
}

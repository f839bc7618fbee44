import type { IntervalLives } from "../lives.ts";

/**
 * The intervals that a survival curve of greatest likelihood can fall in, in ascending order, and the lives by them.
 * Each life lasts through some intervals and fails in one of some neighbouring ones.
 */
export type Atoms = {
  /** Ends: above `low`, up to `high`; the one age where they are equal; from `low` on where that is 0 and a life may have failed at 0. */
  low: Float64Array;
  high: Float64Array;
  /** Lives that last through an interval while under observation. */
  through: Float64Array;
  /** Lives that fail in it for certain. */
  failed: Float64Array;
  /** Lives that fail in one of several: the first, the one after the last, and how many such lives there are. */
  first: Uint32Array;
  end: Uint32Array;
  count: Float64Array;
};

/**
 * Finds the intervals, from a start that no end of a life or entry parts from the next end of one (Turnbull's, with entries as ends).
 * Places on the axis are numbered: 2 i just before the i-th age, 2 i + 1 just after it. A life that failed at t lies from before to
 * after t, one that failed within an interval from after its low end (from before 0 where that is 0) to after its high end.
 * @throws RangeError for a late entry that is not before the life's end, or within the interval in which it failed
 * @see B. W. Turnbull, J. Royal Statistical Society B 38 (1976) 290-295; H. Frydman, the same 56 (1994) 71-74
 */
export function turnbullAtoms(lives: IntervalLives): Atoms {
  const ages = agesOf(lives);
  const places = placesOf(lives, ages);
  const { from, to, before } = innermost(lives, places, 2 * ages.length + 1);
  const through = new Float64Array(from.length + 1);
  const failed = new Float64Array(from.length);
  const several = new Map<number, number>();
  for (let life = 0; life < lives.low.length; life++) {
    const count = lives.count?.[life] ?? 1;
    if (count === 0) continue;
    const first = before[places.left[life]!]!;
    through[before[places.entry[life]!]!]! += count;
    through[first]! -= count;
    if (lives.high[life] === Number.POSITIVE_INFINITY) continue;
    const end = before[places.right[life]!]!;
    if (end === first + 1) failed[first]! += count;
    else several.set(first * from.length + end - 1, (several.get(first * from.length + end - 1) ?? 0) + count);
  }
  for (let atom = 1; atom < through.length; atom++) through[atom]! += through[atom - 1]!;
  const keys = Float64Array.from(several.keys()).sort();
  return {
    low: Float64Array.from(from, (place) => ages[place >> 1]!),
    high: Float64Array.from(to, (place) => ages[place >> 1]!),
    through: through.slice(0, from.length),
    failed,
    first: Uint32Array.from(keys, (key) => Math.floor(key / from.length)),
    end: Uint32Array.from(keys, (key) => (key % from.length) + 1),
    count: Float64Array.from(keys, (key) => several.get(key)!),
  };
}

/** All ages at which something begins or ends, and 0, in ascending order. */
function agesOf({ low, high, entry }: IntervalLives): Float64Array {
  const all = new Float64Array(low.length * 3 + 1);
  all.set(low, 1);
  all.set(entry ?? low, 1 + low.length);
  let size = 1 + 2 * low.length;
  for (const age of high) if (age < Number.POSITIVE_INFINITY) all[size++] = age;
  const sorted = all.subarray(0, size).sort();
  return sorted.filter((age, at) => at === 0 || age !== sorted[at - 1]);
}

type Places = { entry: Uint32Array; left: Uint32Array; right: Uint32Array };

function placesOf({ low, high, entry }: IntervalLives, ages: Float64Array): Places {
  const before = (age: number) => 2 * indexOf(ages, age);
  const left = low.map((age, life) => before(age) + (failedFrom(age, high[life]!) ? 0 : 1));
  const right = high.map((age) => (age < Number.POSITIVE_INFINITY ? before(age) + 1 : 2 * ages.length));
  if (entry !== undefined) for (let life = 0; life < low.length; life++) refuseUnseen(life, entry[life]!, low, high);
  const entered = low.map((_, life) => (entry !== undefined && entry[life]! > 0 ? before(entry[life]!) + 1 : 0));
  return { entry: Uint32Array.from(entered), left: Uint32Array.from(left), right: Uint32Array.from(right) };
}

/** Whether a life may have failed at its low end itself. */
function failedFrom(low: number, high: number): boolean {
  return low === high || (low === 0 && high < Number.POSITIVE_INFINITY);
}

function refuseUnseen(life: number, entry: number, low: Float64Array, high: Float64Array): void {
  const within = high[life]! > low[life]! && high[life]! < Number.POSITIVE_INFINITY;
  if (entry === 0 || entry < low[life]! || (within && entry === low[life])) return;
  const found = `life ${life} (counted from 0) enters at ${entry}, its ends are ${low[life]} and ${high[life]}`;
  throw new RangeError(`Cannot count lives at risk: ${found}`);
}

function indexOf(ages: Float64Array, age: number): number {
  let low = 0;
  let high = ages.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ages[middle]! < age) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Places where the intervals begin and end, and how many begin before each place. */
function innermost(lives: IntervalLives, places: Places, size: number) {
  const { begins, ends } = endsOf(lives, places, size);
  const from: number[] = [];
  const to: number[] = [];
  const before = new Uint32Array(size);
  let begun: number | null = null;
  for (let place = 0; place < size; place++) {
    if (ends[place] === 1 && begun !== null) {
      from.push(begun);
      to.push(place);
      begun = null;
    }
    before[place] = from.length;
    if (begins[place] === 1) begun = place;
  }
  return { from, to, before };
}

function endsOf({ low, count }: IntervalLives, { entry, left, right }: Places, size: number) {
  const begins = new Uint8Array(size);
  const ends = new Uint8Array(size);
  for (let life = 0; life < low.length; life++) {
    if (count?.[life] === 0) continue;
    begins[left[life]!] = 1;
    if (entry[life]! > 0) ends[entry[life]!] = 1;
    if (right[life]! < size - 1) ends[right[life]!] = 1;
  }
  return { begins, ends };
}

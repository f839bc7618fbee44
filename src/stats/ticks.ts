/** Ages as whole numbers of a tick, for counting and sorting without comparing. */
export type Ticks = {
  /** Ticks in a unit of age: 1 for whole hours or days, 10 for tenths. */
  perUnit: number;
  /** Largest number of ticks in the columns. */
  largest: number;
};

const LARGEST = 4_000_000;

/**
 * Finds the tick of which all ages are a whole number, or null where there is none, or counting would cost more than sorting.
 * The test is exact: an age counts as k tenths only if it is the double nearest to k/10.
 */
export function ticksOf(...columns: Float64Array[]): Ticks | null {
  const values = columns.reduce((sum, column) => sum + column.length, 0);
  const limit = Math.min(LARGEST, 1024 + 16 * values);
  for (const perUnit of [1, 10]) {
    const largestIn = perUnit === 1 ? largestWhole : largestTick;
    const largest = columns.reduce((most, column) => Math.max(most, largestIn(column, perUnit)), 0);
    if (largest <= limit) return { perUnit, largest };
  }
  return null;
}

/** Ticks in a unit where all ages are whole ticks of no more than `most`; else null. */
export function ticksPerUnit(column: Float64Array, most: number): number | null {
  return [1, 10].find((perUnit) => largestTick(column, perUnit) <= most) ?? null;
}

function largestTick(column: Float64Array, perUnit: number): number {
  let largest = 0;
  for (let row = 0; row < column.length; row++) {
    const tick = Math.round(column[row]! * perUnit);
    if (tick / perUnit !== column[row]!) return Number.POSITIVE_INFINITY;
    if (tick > largest) largest = tick;
  }
  return largest;
}

/** The same for whole numbers of the unit, at a third of the time. */
function largestWhole(column: Float64Array): number {
  let largest = 0;
  for (let row = 0; row < column.length; row++) {
    const tick = column[row]! | 0;
    if (tick !== column[row]!) return Number.POSITIVE_INFINITY;
    if (tick > largest) largest = tick;
  }
  return largest;
}

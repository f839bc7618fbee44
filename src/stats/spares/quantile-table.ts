import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";

/** Cells of a table, 2 to this power: the topmost bits of a word. */
const BITS = 10;
const CELLS = 2 ** BITS;
const REST = 32 - BITS;
const WITHIN = 2 ** -REST;
const MASK = 2 ** REST - 1;
/** Cells at either end where a quantile bends too much for its table: there it is reckoned. */
const ENDS = 16;
const INNER = CELLS - 2 * ENDS;

/** Quantile of a standard exponential at the share (word + 1/2) / 2^32, to 1e-7 of itself, for any 32-bit word. */
export function exponentialOf(word: number): number {
  const cell = word >>> REST;
  return (cell - ENDS) >>> 0 < INNER ? cubic(EXPONENTIAL, cell, word) : exponentialAt(shareOf(word));
}

/** Log of the same, an extreme-value quantile. */
export function logExponentialOf(word: number): number {
  const cell = word >>> REST;
  return (cell - ENDS) >>> 0 < INNER ? cubic(LOG_EXPONENTIAL, cell, word) : Math.log(exponentialAt(shareOf(word)));
}

/** Quantile of a standard normal likewise. */
export function normalOf(word: number): number {
  const cell = word >>> REST;
  return (cell - ENDS) >>> 0 < INNER ? cubic(NORMAL, cell, word) : normalQuantile(shareOf(word), 0, 1);
}

function shareOf(word: number): number {
  return ((word >>> 0) + 0.5) * 2 ** -32;
}

function cubic(table: Float64Array, cell: number, word: number): number {
  const at = cell << 2;
  const place = ((word & MASK) + 0.5) * WITHIN;
  return table[at]! + place * (table[at + 1]! + place * (table[at + 2]! + place * table[at + 3]!));
}

/** Cubics that have a quantile's values and slopes at both ends of each inner cell (Hermite). */
function tableOf(quantile: (share: number) => number, slope: (share: number) => number): Float64Array {
  const table = new Float64Array(4 * CELLS);
  for (let cell = ENDS; cell < CELLS - ENDS; cell++) {
    const [from, to] = [cell / CELLS, (cell + 1) / CELLS];
    const [rise, start, end] = [quantile(to) - quantile(from), slope(from) / CELLS, slope(to) / CELLS];
    table.set([quantile(from), start, 3 * rise - 2 * start - end, start + end - 2 * rise], 4 * cell);
  }
  return table;
}

const exponentialAt = (share: number) => -Math.log1p(-share);
const normalAt = (share: number) => normalQuantile(share, 0, 1);

const EXPONENTIAL = tableOf(exponentialAt, (share) => 1 / (1 - share));
const LOG_EXPONENTIAL = tableOf(
  (share) => Math.log(exponentialAt(share)),
  (share) => 1 / ((1 - share) * exponentialAt(share)),
);
const NORMAL = tableOf(normalAt, (share) => Math.sqrt(2 * Math.PI) * Math.exp(normalAt(share) ** 2 / 2));

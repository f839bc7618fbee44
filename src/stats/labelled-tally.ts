import { orderOf } from "./order.ts";
import { type Ticks, ticksOf } from "./ticks.ts";

/**
 * Rows counted by value and label. The cells of `value[at]` are those from `start[at]` up to, not with, `start[at + 1]`,
 * in ascending order of label.
 */
export type LabelledTally = { value: Float64Array; start: Uint32Array; label: Int32Array; count: Float64Array };

/** Rows to be counted: values of 0 or more, labels from 0 up to, not with, `labels`, and how many a row stands for; 1 where not given. */
export type LabelledRows = {
  values: Float64Array;
  label: Int32Array | Uint8Array;
  labels: number;
  count?: Float64Array | undefined;
};

/** Counts rows by value and label; what counts for nothing is left out. */
export function labelledTally(rows: LabelledRows): LabelledTally {
  const { values, labels } = rows;
  const ticks = ticksOf(values);
  const fits = ticks !== null && (ticks.largest + 1) * labels <= mostSums(values.length);
  return fits ? byTick(rows, ticks) : bySorting(rows);
}

/** How large a table of counts may be for so many rows: a larger one costs more than sorting. */
export function mostSums(rows: number): number {
  return Math.min(4_000_000, 1024 + 16 * rows);
}

function byTick({ values, label, labels, count }: LabelledRows, { perUnit, largest }: Ticks): LabelledTally {
  const sums = new Float64Array((largest + 1) * labels);
  for (let row = 0; row < values.length; row++) {
    sums[Math.round(values[row]! * perUnit) * labels + label[row]!]! += count?.[row] ?? 1;
  }
  return cellsOf(sums, labels, perUnit, values.length);
}

/** The cells of a table of counts, of which `perUnit` rows of `labels` counts each make a unit of value. */
export function cellsOf(sums: Float64Array | Int32Array, labels: number, perUnit: number, rows: number): LabelledTally {
  const cells = new Cells(Math.min(sums.length, rows));
  for (let at = 0, tick = 0; at < sums.length; tick++) {
    const value = tick / perUnit;
    for (let label = 0; label < labels; label++, at++) {
      if (sums[at] !== 0) cells.add(value, label, sums[at]!);
    }
  }
  return cells.tally();
}

function bySorting(rows: LabelledRows): LabelledTally {
  const { values, label, labels, count } = rows;
  const order = orderOf(values);
  const cells = new Cells(values.length);
  const sums = new Float64Array(labels);
  for (let from = 0, to = 0; from < order.length; from = to) {
    const row = order[from]!;
    to = from + 1;
    while (to < order.length && values[order[to]!] === values[row]) to++;
    if (to === from + 1) cells.add(values[row]!, label[row]!, count?.[row] ?? 1);
    else addTied(cells, rows, order.subarray(from, to), sums);
  }
  return cells.tally();
}

/** Adds rows of one value; the sums are 0 before and after. */
function addTied(cells: Cells, { values, label, count }: LabelledRows, tied: Uint32Array, sums: Float64Array): void {
  for (const row of tied) sums[label[row]!]! += count?.[row] ?? 1;
  for (const at of Int32Array.from(tied, (row) => label[row]!).sort()) {
    cells.add(values[tied[0]!]!, at, sums[at]!);
    sums[at] = 0;
  }
}

/** Cells being gathered, in ascending order of value and label. */
class Cells {
  readonly #value: Float64Array;
  readonly #start: Uint32Array;
  readonly #label: Int32Array;
  readonly #count: Float64Array;
  #values = 0;
  #size = 0;

  constructor(most: number) {
    this.#value = new Float64Array(most);
    this.#start = new Uint32Array(most + 1);
    this.#label = new Int32Array(most);
    this.#count = new Float64Array(most);
  }

  add(value: number, label: number, count: number): void {
    if (count === 0) return;
    if (this.#values === 0 || this.#value[this.#values - 1] !== value) {
      this.#start[this.#values] = this.#size;
      this.#value[this.#values++] = value;
    }
    this.#label[this.#size] = label;
    this.#count[this.#size++] = count;
  }

  tally(): LabelledTally {
    this.#start[this.#values] = this.#size;
    return {
      value: this.#value.slice(0, this.#values),
      start: this.#start.slice(0, this.#values + 1),
      label: this.#label.slice(0, this.#size),
      count: this.#count.slice(0, this.#size),
    };
  }
}

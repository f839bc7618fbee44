type Column = Float64Array | Int32Array | Uint8Array;

/**
 * Puts the rows of each group in the order of their own numbers, in place, in all columns alike: whatever order they came in,
 * an answer is the same to its last digit.
 * @param from - where each group begins in the columns, and the end of the last
 * @param number - a number of each row that no other row of its group has; it is put in order too
 */
export function orderInGroups(from: Int32Array, number: Int32Array, columns: readonly Column[]): void {
  for (let group = 0; group + 1 < from.length; group++) {
    const [first, end] = [from[group]!, from[group + 1]!];
    const starts = risingRuns(number, first, end);
    if (starts.length > 2) putInOrder(mergedRuns(number, starts), [number, ...columns]);
  }
}

/** Where the numbers start to rise anew, and the end: a table read by several hands comes in few stretches. */
function risingRuns(number: Int32Array, first: number, end: number): number[] {
  const starts = [first];
  for (let row = first + 1; row < end; row++) if (number[row]! < number[row - 1]!) starts.push(row);
  return [...starts, end];
}

/** The rows in order, stretches merged two by two until one is left. */
function mergedRuns(number: Int32Array, starts: number[]): Int32Array {
  const first = starts[0]!;
  let rows = Int32Array.from({ length: starts.at(-1)! - first }, (_, row) => first + row);
  let merged = new Int32Array(rows.length);
  let ends = starts.map((start) => start - first);
  while (ends.length > 2) {
    for (let run = 0; run < ends.length - 1; run += 2) {
      merge(number, rows, [ends[run]!, ends[run + 1]!, ends[run + 2] ?? ends[run + 1]!], merged);
    }
    ends = ends.filter((_, run) => run % 2 === 0 || run === ends.length - 1);
    [rows, merged] = [merged, rows];
  }
  return rows;
}

function merge(
  number: Int32Array,
  rows: Int32Array,
  [from, middle, to]: [number, number, number],
  merged: Int32Array,
): void {
  for (let at = from, one = from, other = middle; at < to; at++) {
    const takesOne = one < middle && (other >= to || number[rows[one]!]! <= number[rows[other]!]!);
    merged[at] = takesOne ? rows[one++]! : rows[other++]!;
  }
}

/** Moves the rows, which are those of one stretch in another order, in each column. */
function putInOrder(rows: Int32Array, columns: readonly Column[]): void {
  const first = rows.reduce((least, row) => Math.min(least, row), rows[0]!);
  for (const column of columns) {
    const before = column.slice(first, first + rows.length);
    for (let row = 0; row < rows.length; row++) column[first + row] = before[rows[row]! - first]!;
  }
}

/** Counts the different numbers, of 0 or more, from one row up to before another, for many such stretches of one column. */
export function distinctCounter(column: Int32Array): (from: number, to: number) => number {
  let most = -1;
  for (let row = 0; row < column.length; row++) if (column[row]! > most) most = column[row]!;
  const seen = new Int32Array(most + 1);
  let round = 0;
  return (from, to) => {
    round++;
    let found = 0;
    for (let row = from; row < to; row++) {
      if (seen[column[row]!] === round) continue;
      seen[column[row]!] = round;
      found++;
    }
    return found;
  };
}

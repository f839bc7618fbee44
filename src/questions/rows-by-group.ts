/**
 * Rows put by group, and within a group by their own number, whatever order they came in.
 * @param group - the group of each row, 0 to groups - 1
 * @param number - a number of each row that no other row of its group has
 * @returns the rows in their order, none where they are in it already; and where each group begins in it, with the end of the last
 */
export function rowsByGroup(
  group: Int32Array,
  number: Int32Array,
  groups: number,
): { order: Int32Array | null; from: Int32Array } {
  const from = new Int32Array(groups + 1);
  for (let row = 0; row < group.length; row++) from[group[row]! + 1]!++;
  for (let one = 0; one < groups; one++) from[one + 1]! += from[one]!;
  if (isOrdered(group, number)) return { order: null, from };
  const order = new Int32Array(group.length);
  const next = from.slice();
  for (let row = 0; row < group.length; row++) order[next[group[row]!]!++] = row;
  for (let one = 0; one < groups; one++) sortByNumber(order.subarray(from[one]!, from[one + 1]!), number);
  return { order, from };
}

function isOrdered(group: Int32Array, number: Int32Array): boolean {
  for (let row = 1; row < group.length; row++) {
    const step = group[row]! - group[row - 1]!;
    if (step < 0 || (step === 0 && number[row]! < number[row - 1]!)) return false;
  }
  return true;
}

function sortByNumber(rows: Int32Array, number: Int32Array): void {
  for (let at = 1; at < rows.length; at++) {
    if (number[rows[at]!]! >= number[rows[at - 1]!]!) continue;
    rows.sort((one, other) => number[one]! - number[other]!);
    return;
  }
}

/** A column with its rows in another order. */
export function inOrder<Column extends Float64Array | Int32Array>(column: Column, order: Int32Array | null): Column {
  if (order === null) return column;
  const ordered = column.slice() as Column;
  for (let row = 0; row < order.length; row++) ordered[row] = column[order[row]!]!;
  return ordered;
}

/** Counts the different numbers, of 0 or more, from one row up to before another, for many such stretches of one column. */
export function distinctCounter(column: Int32Array): (from: number, to: number) => number {
  const seen = new Int32Array(column.reduce((most, value) => Math.max(most, value), -1) + 1);
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

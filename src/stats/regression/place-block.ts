import type { PointRows } from "./life-rows.ts";

/** Writes z = level + columns + shape * log age of a block of terms that starts at `from`. */
export function placeBlock(
  { log, columns }: PointRows,
  theta: Float64Array,
  shape: number,
  from: number,
  length: number,
  into: Float64Array,
): void {
  const level = theta[0]!;
  const odd = columns.length % 2;
  if (odd === 0) for (let term = 0; term < length; term++) into[term] = level + shape * log[from + term]!;
  else addFirst(log, columns[0]!, level, shape, theta[1]!, from, length, into);
  for (let one = odd; one < columns.length; one += 2) {
    addTwo(columns[one]!, columns[one + 1]!, theta[one + 1]!, theta[one + 2]!, from, length, into);
  }
}

function addFirst(
  log: Float64Array,
  column: Float64Array,
  level: number,
  shape: number,
  times: number,
  from: number,
  length: number,
  into: Float64Array,
): void {
  for (let term = 0; term < length; term++) {
    into[term] = level + shape * log[from + term]! + times * column[from + term]!;
  }
}

function addTwo(
  one: Float64Array,
  other: Float64Array,
  times: number,
  otherTimes: number,
  from: number,
  length: number,
  into: Float64Array,
): void {
  for (let term = 0; term < length; term++) {
    into[term]! += times * one[from + term]! + otherTimes * other[from + term]!;
  }
}

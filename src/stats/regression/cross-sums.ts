/**
 * Gradient and second derivatives of a log-likelihood whose terms are functions of z = theta_0 + sum of theta_j * column_j: first and second
 * derivative by z of each term, times 1 and the columns, and times each pair of them. A block of terms at a time, which stays in the cache.
 */
export type CrossSums = Slopes & { bend: Float64Array };

/** A log-likelihood and its gradient alone. */
export type Slopes = { value: number; slope: Float64Array };

export function emptySums(size: number): CrossSums {
  return { value: 0, slope: new Float64Array(size), bend: new Float64Array(size * size) };
}

/** Terms in a block. */
export const BLOCK = 512;

const scaled = new Float64Array(BLOCK);

/**
 * Adds the gradient of a block.
 * @param from - where the block starts in the columns
 * @param first - derivatives by z of the block's terms, weights included, from 0 on
 */
export function addGradient(
  { slope }: Slopes,
  columns: readonly Float64Array[],
  from: number,
  length: number,
  first: Float64Array,
): void {
  slope[0]! += sumOf(first, length);
  let one = 0;
  for (; one + 1 < columns.length; one += 2) {
    addPair(slope, one + 1, columns[one]!, columns[one + 1]!, from, length, first);
  }
  if (one < columns.length) addInner(slope, one + 1, columns[one]!, from, length, first);
}

function sumOf(values: Float64Array, length: number): number {
  let [a, b] = [0, 0];
  let term = 0;
  for (; term + 1 < length; term += 2) {
    a += values[term]!;
    b += values[term + 1]!;
  }
  if (term < length) a += values[term]!;
  return a + b;
}

/**
 * Adds the second derivatives of a block, those of the upper triangle alone.
 * @param from - where the block starts in the columns
 * @param second - second derivatives by z of the block's terms, weights included, from 0 on
 */
export function addCurvature(
  { bend }: CrossSums,
  columns: readonly Float64Array[],
  from: number,
  length: number,
  second: Float64Array,
): void {
  const size = columns.length + 1;
  bend[0]! += sumOf(second, length);
  for (let one = 1; one < size; one++) {
    addColumn(bend, size, one, columns[one - 1]!, from, length, second);
    let other = one + 1;
    for (; other + 1 < size; other += 2) {
      addPair(bend, one * size + other, columns[other - 1]!, columns[other]!, from, length, scaled);
    }
    if (other < size) addInner(bend, one * size + other, columns[other - 1]!, from, length, scaled);
  }
}

/** A column's sums with 1 and with itself, two side by side that don't wait for each other; leaves it times `second` in `scaled`. */
function addColumn(
  bend: Float64Array,
  size: number,
  one: number,
  column: Float64Array,
  from: number,
  length: number,
  second: Float64Array,
): void {
  let [across, beside, square, other] = [0, 0, 0, 0];
  let term = 0;
  for (; term + 1 < length; term += 2) {
    const value = column[from + term]!;
    const next = column[from + term + 1]!;
    const own = second[term]! * value;
    const nextOwn = second[term + 1]! * next;
    across += own;
    beside += nextOwn;
    square += own * value;
    other += nextOwn * next;
    scaled[term] = own;
    scaled[term + 1] = nextOwn;
  }
  if (term < length) {
    const value = column[from + term]!;
    scaled[term] = second[term]! * value;
    across += scaled[term]!;
    square += scaled[term]! * value;
  }
  bend[one]! += across + beside;
  bend[one * size + one]! += square + other;
}

/** Sums of a block's factors with two columns in one go, each in two sums side by side that don't wait for each other. */
function addPair(
  sums: Float64Array,
  place: number,
  one: Float64Array,
  other: Float64Array,
  from: number,
  length: number,
  times: Float64Array,
): void {
  let [a, b, c, d] = [0, 0, 0, 0];
  let term = 0;
  for (; term + 1 < length; term += 2) {
    const here = times[term]!;
    const next = times[term + 1]!;
    a += here * one[from + term]!;
    b += next * one[from + term + 1]!;
    c += here * other[from + term]!;
    d += next * other[from + term + 1]!;
  }
  if (term < length) {
    a += times[term]! * one[from + term]!;
    c += times[term]! * other[from + term]!;
  }
  sums[place]! += a + b;
  sums[place + 1]! += c + d;
}

function addInner(
  sums: Float64Array,
  place: number,
  column: Float64Array,
  from: number,
  length: number,
  times: Float64Array,
): void {
  let [a, b] = [0, 0];
  let term = 0;
  for (; term + 1 < length; term += 2) {
    a += times[term]! * column[from + term]!;
    b += times[term + 1]! * column[from + term + 1]!;
  }
  if (term < length) a += times[term]! * column[from + term]!;
  sums[place]! += a + b;
}

/** Fills the lower triangle from the upper. */
export function mirror({ slope, bend }: Pick<CrossSums, "slope" | "bend">): void {
  const size = slope.length;
  for (let one = 1; one < size; one++) {
    for (let other = 0; other < one; other++) bend[one * size + other] = bend[other * size + one]!;
  }
}

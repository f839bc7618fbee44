/** Rows put in order of a whole number from 0 to below `limit`; rows of equal number stay in their order. */
export function orderByNumber(numbers: Int32Array, limit: number, rows: Uint32Array): Uint32Array {
  const next = new Uint32Array(limit + 1);
  for (const row of rows) next[numbers[row]! + 1]!++;
  for (let number = 1; number <= limit; number++) next[number]! += next[number - 1]!;
  const order = new Uint32Array(rows.length);
  for (const row of rows) order[next[numbers[row]!]!++] = row;
  return order;
}

/** Runs of equal number among rows in order of it. */
export function* runsOf(numbers: Int32Array, order: Uint32Array): Generator<Uint32Array> {
  for (let from = 0, to = 0; from < order.length; from = to) {
    while (to < order.length && numbers[order[to]!] === numbers[order[from]!]) to++;
    yield order.subarray(from, to);
  }
}

/** Number of the first of ascending ages that is above `age`. */
export function firstAbove(ages: Float64Array, age: number): number {
  let [low, high] = [0, ages.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ages[middle]! > age) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Chances of each number of pairs of which the later is larger, over all orders of values of which `tied` are equal each:
 * the multinomial coefficient in powers of q, as a product of binomial ones, divided by its sum.
 * @param tied - how often each distinct value occurs
 * @returns chance of 0, 1, ... pairs
 * @see D. E. Knuth, The Art of Computer Programming, vol. 3, 5.1.1 and 5.1.2 (inversions of a multiset)
 */
export function laterLongerChances(tied: readonly number[]): Float64Array {
  let chances = Float64Array.of(1);
  let before = 0;
  for (const number of tied) {
    chances = convolved(chances, placingChances(before, number));
    before += number;
  }
  return chances;
}

/** Distribution of the sum of two independent numbers. */
export function convolved(first: Float64Array, second: Float64Array): Float64Array<ArrayBuffer> {
  const sum = new Float64Array(first.length + second.length - 1);
  for (let a = 0; a < first.length; a++) {
    for (let b = 0; b < second.length; b++) sum[a + b]! += first[a]! * second[b]!;
  }
  return sum;
}

/**
 * How many of `before` smaller values precede each of `number` equal ones put among them at random, in all. With w(i, j) the ways for i smaller and j equal values:
 * the last value is a smaller one, w(i - 1, j), or an equal one, with all i before it, w(i, j - 1) moved by i.
 */
function placingChances(before: number, number: number): Float64Array {
  let row: Float64Array[] = Array.from({ length: number + 1 }, () => Float64Array.of(1));
  for (let smaller = 1; smaller <= before; smaller++) {
    const next: Float64Array[] = [Float64Array.of(1)];
    for (let equal = 1; equal <= number; equal++) {
      const ways = new Float64Array(smaller * equal + 1);
      ways.set(row[equal]!);
      const fewer = next[equal - 1]!;
      for (let at = 0; at < fewer.length; at++) ways[at + smaller]! += fewer[at]!;
      next.push(ways);
    }
    row = next;
  }
  const ways = row[number]!;
  const all = ways.reduce((sum, way) => sum + way, 0);
  return ways.map((way) => way / all);
}

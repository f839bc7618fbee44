/** Pairs of values in a series. */
export type PairCount = {
  size: number;
  /** All pairs. */
  pairs: number;
  /** Pairs of equal values. */
  tied: number;
  /** Pairs of which the later is larger. */
  laterLonger: number;
  /** How often each distinct value occurs, ascending by value. */
  repeats: number[];
};

/**
 * Counts pairs in n log n steps: for each value, how many of those before it rank below.
 * @param values - in their order
 * @param rounding - values that lie no further apart are equal
 */
export function laterLongerPairs(values: Float64Array, rounding: number): PairCount {
  const { rankOf, distinct } = ranksOf(values, rounding);
  const repeats = new Array<number>(distinct).fill(0);
  // A tree of partial sums over ranks (Fenwick): position k holds the counts of the k & -k ranks up to k.
  const tree = new Uint32Array(distinct + 1);
  let laterLonger = 0;
  for (const value of values) {
    const rank = rankOf.get(value)!;
    repeats[rank - 1]!++;
    for (let at = rank - 1; at > 0; at -= at & -at) laterLonger += tree[at]!;
    for (let at = rank; at < tree.length; at += at & -at) tree[at]!++;
  }
  const pairsOf = (number: number) => (number * (number - 1)) / 2;
  const tied = repeats.reduce((sum, number) => sum + pairsOf(number), 0);
  return { size: values.length, pairs: pairsOf(values.length), tied, laterLonger, repeats };
}

/** Rank of each value from 1, ascending. */
function ranksOf(values: Float64Array, rounding: number): { rankOf: Map<number, number>; distinct: number } {
  const rankOf = new Map<number, number>();
  let [rank, last] = [0, Number.NEGATIVE_INFINITY];
  for (const value of values.slice().sort()) {
    if (value - last > rounding) rank++;
    rankOf.set(value, rank);
    last = value;
  }
  return { rankOf, distinct: rank };
}

/**
 * Weights by rank that change one by one, with the sum of all below a rank at hand: a binary indexed tree.
 * @see P. M. Fenwick, Software: Practice and Experience 24 (1994) 327-336
 */
export class RisingCounts {
  readonly #tree: Float64Array;
  readonly #own: Float64Array;
  total = 0;

  constructor(ranks: number) {
    this.#tree = new Float64Array(ranks + 1);
    this.#own = new Float64Array(ranks);
  }

  add(rank: number, weight: number): void {
    this.total += weight;
    this.#own[rank]! += weight;
    for (let at = rank + 1; at < this.#tree.length; at += at & -at) this.#tree[at]! += weight;
  }

  at(rank: number): number {
    return this.#own[rank]!;
  }

  below(rank: number): number {
    let sum = 0;
    for (let at = rank; at > 0; at -= at & -at) sum += this.#tree[at]!;
    return sum;
  }
}

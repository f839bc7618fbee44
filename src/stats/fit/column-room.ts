/** Numbers in a block: a few dozen columns of sets that are drawn a thousand times. */
const BLOCK = 2 ** 15;

/** Room for thousands of short columns that live as long as one another: taken from the system by the block, which is quicker than one by one. */
export class ColumnRoom {
  #block = new Float64Array(0);
  #used = 0;

  /** A column of zeros. */
  take(size: number): Float64Array {
    if (this.#used + size > this.#block.length) {
      this.#block = new Float64Array(Math.max(size, BLOCK));
      this.#used = 0;
    }
    this.#used += size;
    return this.#block.subarray(this.#used - size, this.#used);
  }
}

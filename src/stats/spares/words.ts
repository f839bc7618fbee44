/**
 * Sets the state of a generator of 32-bit words that three numbers determine: seed, draw and unit. What one unit meets in one draw thus
 * depends on nothing else, and may be drawn in any order and by any thread. A small fast counting generator (sfc32) of four words, the
 * last of which counts.
 * @param state - four words, written
 * @see C. Doty-Humphrey, PractRand (sfc32, public domain)
 */
export function startWords(state: Int32Array, seed: number, draw: number, unit: number): void {
  state[0] = seed;
  state[1] = draw;
  state[2] = unit;
  state[3] = 1;
  advance(state, WARM_UP, null);
}

/** The first words show the numbers that they started from. */
const WARM_UP = 12;

/** The next words, written to the start of `words`. */
export function nextWords(state: Int32Array, words: Int32Array, count: number): void {
  advance(state, count, words);
}

function advance(state: Int32Array, count: number, words: Int32Array | null): void {
  let a = state[0]!;
  let b = state[1]!;
  let c = state[2]!;
  let counter = state[3]!;
  for (let at = 0; at < count; at++) {
    const word = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + word;
    c |= 0;
    if (words !== null) words[at] = word;
  }
  state[0] = a;
  state[1] = b;
  state[2] = c;
  state[3] = counter;
}

import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** A stream of random numbers that its seed and number determine. */
export type Stream = {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Uniform whole number from 0 to below `limit`. */
  below(limit: number): number;
};

/**
 * The stream `number` of a seed. Each replicate of a bootstrap has a stream of its own, so that it does not depend on how many were
 * drawn before it, or by whom.
 * @param seed - any whole number
 * @param number - 0 or more
 * @example streamOf(1, 0).uniform();
 */
export function streamOf(seed: number, number: number): Stream {
  const generator = xoroshiro128plus(mixed(seed, number));
  for (let draw = 0; draw < WARM_UP; draw++) generator.next();
  return {
    uniform: () => uniformFloat64(generator),
    below: (limit) => uniformInt(generator, 0, limit - 1),
  };
}

/** The generator's first numbers show the seed. */
const WARM_UP = 8;

/** Spreads neighbouring seeds and numbers over all 32-bit words (the finisher of MurmurHash3, which is in the public domain). */
function mixed(seed: number, number: number): number {
  let word = (seed | 0) ^ Math.imul((number | 0) + 0x7f4a7c15, 0x9e3779b1);
  word = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
  word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
  return word ^ (word >>> 16);
}

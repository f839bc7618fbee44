import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";

/** A stream of draws; each call takes the next number of its own stream and of no other. */
export type Random = {
  /** In (0, 1). */
  uniform: () => number;
  /** Whole number in [low, high]. */
  integer: (low: number, high: number) => number;
  normal: (mean: number, sd: number) => number;
  chance: (probability: number) => boolean;
  pick: <T>(list: readonly T[]) => T;
  /** A key of `shares`, as often as its share says; shares need not add to 1. */
  weighted: (shares: Record<string, number>) => string;
};

/**
 * The stream that belongs to `labels`: the same seed and labels give the same draws wherever and whenever it is asked for,
 * so that a unit more, or a card more, leaves the draws of all others as they were.
 * @example randomFor(7, "saltmere", "unit", 12).uniform();
 */
export function randomFor(seed: number, ...labels: (string | number)[]): Random {
  const generator = xoroshiro128plusFromState(stateOf(`${seed}/${labels.join("/")}`));
  const uniform = () => {
    let drawn = uniformFloat64(generator);
    while (drawn === 0) drawn = uniformFloat64(generator);
    return drawn;
  };
  const integer = (low: number, high: number) => low + Math.floor(uniform() * (high - low + 1));
  return {
    uniform,
    integer,
    normal: (mean, sd) => mean + sd * normalQuantile(uniform(), 0, 1),
    chance: (probability) => uniform() < probability,
    pick: <T>(list: readonly T[]) => {
      const picked = list[integer(0, list.length - 1)];
      if (picked === undefined) throw new RangeError("Cannot pick from a list: it is empty");
      return picked;
    },
    weighted: (shares) => weighted(shares, uniform()),
  };
}

function weighted(shares: Record<string, number>, at: number): string {
  const entries = Object.entries(shares);
  let left = at * entries.reduce((sum, [, share]) => sum + share, 0);
  for (const [key, share] of entries) {
    left -= share;
    if (left < 0) return key;
  }
  const last = entries.at(-1);
  if (last === undefined) throw new RangeError("Cannot draw by shares: there are none");
  return last[0];
}

/** 128 bits from a text: four multiply-and-xor hashes with odd multipliers of their own, each finished by the 32-bit mixer of MurmurHash3. */
function stateOf(text: string): number[] {
  return [0x9e3779b1, 0x85ebca77, 0xc2b2ae3d, 0x27d4eb2f].map((multiplier, index) => {
    let hash = 0x811c9dc5 + index;
    for (let at = 0; at < text.length; at++) hash = Math.imul(hash ^ text.charCodeAt(at), multiplier) ^ (hash >>> 15);
    hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
    return (hash ^ (hash >>> 16)) | (index === 0 ? 1 : 0); // never the all-zero state, from which the generator can't leave
  });
}

import { streamOf } from "../random/stream.ts";
import { logFactorial } from "./log-factorial.ts";

/** Whether an entity's events are of other modes than those of the rest. */
export type ModeComparison =
  | {
      /** Chance, with the totals of both rows and of all modes as they are, of a table as unlikely as this or more so. */
      p: number;
      /** All tables were gone through, or some were drawn. */
      method: "exact" | "drawn";
      /** How many were drawn; null if none. */
      draws: number | null;
    }
  | { p: null; reason: string };

/** Logs of chances that differ by no more are equal. */
const ROUNDING = 1e-7;

/** Tables that are gone through rather than drawn. */
const MOST_TABLES = 200_000;

/**
 * Exact test of a 2 x k table: the modes of an entity's events against those of all others (Fisher, Freeman and Halton). With more than
 * 200,000 tables a number of them is drawn, and p = (1 + as unlikely) / (1 + drawn).
 * @param own - the entity's events by mode
 * @param others - the others' events by mode, the same modes in the same order
 * @param options - `seed` of the draws, 1 where not given; `draws`, 9,999 where not given
 * @returns p and how it was had, or why there is none
 * @throws RangeError for columns of unequal length, or what is no count
 * @see G. H. Freeman & J. H. Halton, Biometrika 38 (1951) 141-149
 * @example compareModes(Int32Array.of(4, 0), Int32Array.of(2, 9)); // p 0.011
 */
export function compareModes(
  own: Int32Array,
  others: Int32Array,
  { seed = 1, draws = 9999 }: { seed?: number; draws?: number } = {},
): ModeComparison {
  checkModes(own, others);
  const totals = Array.from(own, (count, mode) => count + others[mode]!);
  const size = own.reduce((sum, count) => sum + count, 0);
  const whole = totals.reduce((sum, count) => sum + count, 0);
  if (size === 0 || size === whole) return { p: null, reason: "there are no events on one side" };
  const modes = totals.map((total, mode) => ({ total, own: own[mode]! })).filter(({ total }) => total > 0);
  if (modes.length < 2) return { p: null, reason: "all events are of one mode" };
  const sizes = modes.map(({ total }) => total);
  const seen = modes.reduce((sum, { total, own }) => sum + logWays(total, own), 0);
  const bound = seen + ROUNDING;
  const all = logWays(whole, size);
  if (tablesOf(sizes, size) <= MOST_TABLES) {
    return { p: Math.min(1, unlikely(sizes, size, bound, all)), method: "exact", draws: null };
  }
  return { p: (1 + drawnUnlikely(sizes, size, bound, { seed, draws })) / (1 + draws), method: "drawn", draws };
}

function checkModes(own: Int32Array, others: Int32Array): void {
  if (own.length !== others.length) {
    throw new RangeError(`Cannot compare modes: found ${own.length} and ${others.length} of them`);
  }
  const wrong = [...own, ...others].find((count) => count < 0);
  if (wrong !== undefined) throw new RangeError(`Cannot compare modes: found a count of ${wrong}`);
}

/** log of the number of ways to choose. */
function logWays(total: number, chosen: number): number {
  return logFactorial(total) - logFactorial(chosen) - logFactorial(total - chosen);
}

/** How many ways there are for the entity's events to be spread over modes, given all totals. */
function tablesOf(sizes: number[], size: number): number {
  let ways = new Float64Array(size + 1);
  ways[0] = 1;
  for (const total of sizes) {
    const next = new Float64Array(size + 1);
    let running = 0;
    for (let sum = 0; sum <= size; sum++) {
      running += ways[sum]! - (sum > total ? ways[sum - total - 1]! : 0);
      next[sum] = running;
    }
    ways = next;
  }
  return ways[size]!;
}

/** Chance of tables with so few ways, or fewer. */
function unlikely(sizes: number[], size: number, bound: number, all: number): number {
  const left = sizes.map((_, mode) => sizes.slice(mode + 1).reduce((sum, total) => sum + total, 0));
  const from = (mode: number, rest: number, ways: number): number => {
    if (mode === sizes.length) return ways <= bound ? Math.exp(ways - all) : 0;
    let sum = 0;
    for (let own = Math.max(0, rest - left[mode]!); own <= Math.min(sizes[mode]!, rest); own++) {
      sum += from(mode + 1, rest - own, ways + logWays(sizes[mode]!, own));
    }
    return sum;
  };
  return from(0, size, 0);
}

/** Draws the entity's events out of all without putting back, and counts how often they have so few ways, or fewer. */
function drawnUnlikely(
  sizes: number[],
  size: number,
  bound: number,
  { seed, draws }: { seed: number; draws: number },
): number {
  const modes = Int32Array.from(sizes.flatMap((total, mode) => new Array<number>(total).fill(mode)));
  let count = 0;
  for (let draw = 0; draw < draws; draw++) {
    const random = streamOf(seed, draw);
    const own = new Int32Array(sizes.length);
    for (let at = 0; at < size; at++) {
      const other = at + random.below(modes.length - at);
      const mode = modes[other]!;
      modes[other] = modes[at]!;
      modes[at] = mode;
      own[mode]!++;
    }
    const ways = own.reduce((sum, chosen, mode) => sum + logWays(sizes[mode]!, chosen), 0);
    if (ways <= bound) count++;
  }
  return count;
}

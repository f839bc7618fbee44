import { checkChances, checkedShare } from "./check-chances.ts";
import { trimmedCounts } from "./trimmed-counts.ts";

/** Cut from either end on the way, over at most a few thousand steps. */
const CUT = 1e-20;

/**
 * Chances of how many events need a piece, where each does so with the same chance, for itself.
 * @param events - the chance of each number of events, from 0 on
 * @param chance - that an event needs the piece, 0 to 1
 * @returns the chance of each number of pieces, from 0 on
 * @throws RangeError for what are not chances
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 12
 * @example thinnedCounts(poissonCounts(2.5), 0.5)[0]; // 0.286505: Poisson of mean 1.25
 */
export function thinnedCounts(events: Float64Array, chance: number): Float64Array {
  checkChances(events);
  checkedShare("chance", chance);
  // the generating function at 1 - chance + chance z, by Horner's rule from the highest count down
  let pieces = Float64Array.of(events[events.length - 1]!);
  for (let k = events.length - 2; k >= 0; k--) {
    const next = new Float64Array(pieces.length + 1);
    for (let j = 0; j < pieces.length; j++) {
      next[j]! += pieces[j]! * (1 - chance);
      next[j + 1] = pieces[j]! * chance;
    }
    next[0]! += events[k]!;
    pieces = next[next.length - 1]! > CUT ? next : next.slice(0, -1);
  }
  return trimmedCounts(pieces, CUT);
}

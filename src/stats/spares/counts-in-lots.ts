import { checkChances, checkedWhole } from "./check-chances.ts";

/**
 * Chances of the pieces that events take, each event the same number of them. Pieces used two at a time are not Poisson of twice the mean,
 * which is too rosy.
 * @param events - the chance of each number of events, from 0 on
 * @param quantity - pieces an event takes: a whole number, 0 or more
 * @returns the chance of each number of pieces, from 0 on
 * @throws RangeError for what are not chances, or no whole number
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 12 (compound distributions)
 * @example countsInLots(poissonCounts(1.25), 2)[2]; // 0.358131: one event, two pieces
 */
export function countsInLots(events: Float64Array, quantity: number): Float64Array {
  checkChances(events);
  checkedWhole("a quantity", quantity, 0);
  if (quantity === 0) return Float64Array.of(1);
  const pieces = new Float64Array((events.length - 1) * quantity + 1);
  for (let k = 0; k < events.length; k++) pieces[k * quantity] = events[k]!;
  return pieces;
}

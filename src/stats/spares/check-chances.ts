/** Chances that lack more than this of 1 are not a distribution; tails cut off and roundings take far less. */
const MOST_LACKING = 1e-6;

/** @throws RangeError unless the array holds chances that add up to 1 */
export function checkChances(chances: Float64Array): void {
  let sum = 0;
  for (const chance of chances) {
    if (!(chance >= 0)) throw new RangeError(`Cannot use chances of counts: found ${chance}`);
    sum += chance;
  }
  if (!(Math.abs(sum - 1) <= MOST_LACKING)) throw new RangeError(`Cannot use chances of counts: they add up to ${sum}`);
}

/** @throws RangeError unless 0 <= value <= 1 */
export function checkedShare(name: string, value: number): number {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`Cannot use a ${name} that is not in [0, 1]: found ${value}`);
  return value;
}

/** @throws RangeError unless the value is a whole number from `least` on */
export function checkedWhole(name: string, value: number, least: number): number {
  if (!(Number.isSafeInteger(value) && value >= least)) {
    throw new RangeError(`Cannot use ${name} that must be a whole number from ${least} on: found ${value}`);
  }
  return value;
}

/** @throws RangeError unless 0 <= value < Infinity */
export function checkedAmount(name: string, value: number): number {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot use a ${name} that is not 0 or more: found ${value}`);
  }
  return value;
}

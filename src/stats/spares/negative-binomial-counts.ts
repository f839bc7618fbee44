import { checkedAmount } from "./check-chances.ts";

/**
 * Chances of a negative binomial count of mean m and variance m + dispersion m^2: a Poisson count whose mean is drawn from a gamma
 * distribution of shape 1 / dispersion. With a dispersion of 0 it is Poisson.
 * @param mean - 0 or more
 * @param dispersion - 0 or more: squared coefficient of variation of the drawn mean
 * @returns the chance of each count, from 0 on, up to where less than 1e-15 is left
 * @throws RangeError if an argument lies outside its range, or so wide that 16 million counts would not hold it
 * @see J. F. Lawless, Canadian J. Statistics 15 (1987) 209-225
 * @example negativeBinomialCounts(2, 1 / 3)[0]; // 0.216
 */
export function negativeBinomialCounts(mean: number, dispersion: number): Float64Array {
  checkedAmount("mean", mean);
  checkedAmount("dispersion", dispersion);
  const limit = 1 - 1 / (1 + mean * dispersion);
  const ratio = (k: number) => (mean * (1 + k * dispersion)) / ((k + 1) * (1 + mean * dispersion));
  const mode = Math.floor(Math.max(0, mean * (1 - dispersion)));
  if (mode + REACH * (1 + mean * dispersion) * (1 + Math.sqrt(mean)) > MOST_COUNTS) {
    throw new RangeError(`Cannot hold so wide a count: mean ${mean}, dispersion ${dispersion}`);
  }
  return scaledToOne([...downFrom(mode, ratio).reverse(), 1, ...upFrom(mode, ratio, limit)]);
}

const MOST_COUNTS = 2 ** 24;
/** Standard deviations, or means of a geometric tail, within which all but 1e-15 lies. */
const REACH = 40;
const NEGLIGIBLE = 1e-17;
const NOTHING = 1e-30;

/** Chances of the counts above a mode, over that of the mode. */
function upFrom(mode: number, ratio: (k: number) => number, limit: number): number[] {
  const chances: number[] = [];
  for (let k = mode, chance = 1; ; k++) {
    const next = ratio(k);
    chance *= next;
    const steepest = Math.max(next, limit);
    if (steepest < 1 && chance <= NEGLIGIBLE * (1 - steepest)) return chances;
    chances.push(chance);
  }
}

/** Chances of the counts below it, from the mode down to 0. */
function downFrom(mode: number, ratio: (k: number) => number): number[] {
  const chances: number[] = [];
  for (let k = mode - 1, chance = 1; k >= 0; k--) {
    chance = chance > NOTHING ? chance / ratio(k) : 0;
    chances.push(chance);
  }
  return chances;
}

function scaledToOne(chances: readonly number[]): Float64Array {
  let sum = 0;
  for (let k = chances.length - 1; k >= 0; k--) sum += chances[k]!;
  return Float64Array.from(chances, (chance) => chance / sum);
}

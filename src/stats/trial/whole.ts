/** A number of things to be had, unrounded and in whole ones. */
export type Whole = { exact: number; whole: number };

/**
 * Rounded up, but a whole number is not to become the next for rounding.
 * @throws RangeError for a number too large to count with
 */
export function inWhole(exact: number): Whole {
  if (!(exact < Number.MAX_SAFE_INTEGER)) {
    throw new RangeError(`Cannot size a trial: what is to be seen is so small that it takes ${exact}`);
  }
  return { exact, whole: Math.ceil(exact * (1 - ROUNDING)) };
}

const ROUNDING = 1e-12;

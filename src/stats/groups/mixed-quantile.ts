import { type GridDistribution, probabilityBelow } from "./grid-distribution.ts";

/** A distribution mixed of others, each moved by a shift; the weights sum to 1. */
export type Mixture = { part: GridDistribution; weight: number; shift: number }[];

const MOST_STEPS = 100;
const SETTLED = 1e-6;

/**
 * The value that a mixture stays below with probability `p`, to 1e-6 of the width searched: false position with the Illinois
 * rule, every fourth step a halving.
 */
export function mixedQuantile(mixture: Mixture, p: number, [lowest, highest]: [number, number]): number {
  const low: End = { x: lowest, above: -p };
  const high: End = { x: highest, above: 1 - p };
  for (let step = 0; step < MOST_STEPS && high.x - low.x > SETTLED * (highest - lowest); step++) {
    const secant = (low.x * high.above - high.x * low.above) / (high.above - low.above);
    const x = step % 4 === 3 ? (low.x + high.x) / 2 : secant;
    const above = below(mixture, x) - p;
    if (Math.abs(above) < 1e-7) return x;
    if (above < 0) replace(low, high, { x, above });
    else replace(high, low, { x, above });
  }
  return (low.x + high.x) / 2;
}

type End = { x: number; above: number; again?: boolean };

/** An end replaced twice running halves the weight of the other, which would else never move. */
function replace(end: End, other: End, by: { x: number; above: number }): void {
  if (end.again === true) other.above /= 2;
  Object.assign(end, by, { again: true });
  other.again = false;
}

function below(mixture: Mixture, x: number): number {
  let sum = 0;
  for (const { part, weight, shift } of mixture) sum += weight * probabilityBelow(part, x - shift);
  return sum;
}

/** From where no part has any probability to where all have all of theirs. */
export function rangeOf(mixture: Mixture): [number, number] {
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { part, shift } of mixture) {
    lowest = Math.min(lowest, part.start - part.step / 2 + shift);
    highest = Math.max(highest, part.start + (part.density.length - 0.5) * part.step + shift);
  }
  return [lowest, highest];
}

/** Where a function is greatest, and its value there. */
export type Peak = { at: number[]; value: number; settled: boolean };

const MOST_STEPS = 200;
/** Rises in a step that are taken for none; differences of the function are noisy below. */
const NEGLIGIBLE_RISE = 1e-8;
/** Step of the differences that stand for slopes: near the cube root of the rounding error, best for central differences. */
const STEP = 1e-5;

/**
 * Greatest value of a smooth function of a few parameters, all of order 1, from a start: Broyden, Fletcher, Goldfarb and Shanno's
 * update with central differences. Ends where a step gains next to nothing.
 */
export function quasiNewton(of: (at: number[]) => number, start: number[]): Peak {
  let [at, value] = [start, of(start)];
  let slope = slopeOf(of, at);
  let inverse = diagonal(slope);
  let fresh = true;
  for (let step = 0; step < MOST_STEPS; step++) {
    const direction = inverse.map((row) => clipped(dot(row, slope)));
    const next = risen(of, at, value, direction, dot(direction, slope));
    const rise = next === null ? 0 : next.value - value;
    if (next !== null && rise > 0) {
      const nextSlope = slopeOf(of, next.at);
      inverse = updated(inverse, minus(next.at, at), minus(slope, nextSlope)) ?? inverse;
      [at, value, slope] = [next.at, next.value, nextSlope];
    }
    if (rise > NEGLIGIBLE_RISE * (1 + Math.abs(value) * 1e-4)) {
      fresh = false;
      continue;
    }
    if (fresh) return { at, value, settled: true };
    inverse = diagonal(slope);
    fresh = true;
  }
  return { at, value, settled: false };
}

/** A first step of length 0.2 at most in each direction. */
function diagonal(slope: number[]): number[][] {
  const size = Math.max(...slope.map(Math.abs), 1e-8);
  return slope.map((_, row) => slope.map((_, column) => (row === column ? 0.2 / size : 0)));
}

const LONGEST = 2;
const clipped = (move: number) => Math.min(Math.max(move, -LONGEST), LONGEST);

function slopeOf(of: (at: number[]) => number, at: number[]): number[] {
  return at.map((_, axis) => {
    const moved = (by: number) => of(at.map((value, other) => (other === axis ? value + by : value)));
    return (moved(STEP) - moved(-STEP)) / (2 * STEP);
  });
}

/** The first of ever shorter steps along which the function rises as its slope says. */
function risen(
  of: (at: number[]) => number,
  at: number[],
  value: number,
  direction: number[],
  promised: number,
): { at: number[]; value: number } | null {
  for (let share = 1; share > 1e-8; share /= 3) {
    const there = at.map((from, axis) => from + share * direction[axis]!);
    const found = of(there);
    if (found > value + 1e-4 * share * Math.max(promised, 0)) return { at: there, value: found };
  }
  return null;
}

/** Inverse of minus the second derivatives, after a move and the fall of the slope along it; null where that shows no hollow. */
function updated(inverse: number[][], move: number[], fall: number[]): number[][] | null {
  const along = dot(move, fall);
  if (!(along > 1e-12 * Math.sqrt(dot(move, move) * dot(fall, fall)))) return null;
  const turned = inverse.map((row) => dot(row, fall));
  const factor = (1 + dot(fall, turned) / along) / along;
  return inverse.map((row, i) =>
    row.map(
      (value, j) => value + factor * move[i]! * move[j]! - (turned[i]! * move[j]! + move[i]! * turned[j]!) / along,
    ),
  );
}

const dot = (a: number[], b: number[]) => a.reduce((sum, value, at) => sum + value * b[at]!, 0);
const minus = (a: number[], b: number[]) => a.map((value, at) => value - b[at]!);

/** A function's value somewhere, and its slope there for when it is wanted. */
export type Rising = { value: number; slope: () => number[] };

/** Where a function is greatest, and its value there. */
export type Peak = { at: number[]; value: number; settled: boolean };

const MOST_STEPS = 200;
/** Rises in a step that are taken for none. */
const NEGLIGIBLE_RISE = 1e-10;

/**
 * Greatest value of a smooth function of a few parameters, all of order 1, from a start: Broyden, Fletcher, Goldfarb and Shanno's
 * update. Ends where a step gains next to nothing.
 * @see J. Nocedal & S. J. Wright, Numerical Optimization, 2nd edition, ch. 6
 */
export function quasiNewton(of: (at: number[]) => Rising, start: number[]): Peak {
  const first = of(start);
  let [at, value, slope] = [start, first.value, first.slope()];
  let inverse = diagonal(slope);
  let fresh = true;
  for (let step = 0; step < MOST_STEPS; step++) {
    const direction = inverse.map((row) => clipped(dot(row, slope)));
    const negligible = NEGLIGIBLE_RISE * (1 + Math.abs(value) * 1e-4);
    const next = risen(of, { at, value, direction, promised: dot(direction, slope), negligible });
    const rise = next === null ? 0 : next.value - value;
    if (next !== null && rise > 0) {
      const nextSlope = next.slope();
      inverse = updated(inverse, minus(next.at, at), minus(slope, nextSlope)) ?? inverse;
      [at, value, slope] = [next.at, next.value, nextSlope];
    }
    if (rise > negligible) {
      fresh = false;
      continue;
    }
    if (fresh) return { at, value, settled: true };
    // Once more, each way for itself.
    inverse = inverse.map((row, axis) => row.map((value, other) => (other === axis ? value : 0)));
    fresh = true;
  }
  return { at, value, settled: false };
}

/** Step of the differences that stand for slopes: near the cube root of the rounding error, best for central differences. */
const STEP = 1e-5;

/** Central differences in the place of a slope, for a function that has none in closed form. */
export function byDifferences(of: (at: number[]) => number): (at: number[]) => Rising {
  return (at) => ({
    value: of(at),
    slope: () =>
      at.map((_, axis) => {
        const moved = (by: number) => of(at.map((value, other) => (other === axis ? value + by : value)));
        return (moved(STEP) - moved(-STEP)) / (2 * STEP);
      }),
  });
}

/** A first step of length 0.2 at most in each direction. */
function diagonal(slope: number[]): number[][] {
  const size = Math.max(...slope.map(Math.abs), 1e-8);
  return slope.map((_, row) => slope.map((_, column) => (row === column ? 0.2 / size : 0)));
}

const LONGEST = 2;
const clipped = (move: number) => Math.min(Math.max(move, -LONGEST), LONGEST);

type Way = { at: number[]; value: number; direction: number[]; promised: number; negligible: number };

/** The first of ever shorter steps along which the function rises as its slope says; null where none does, or next to nothing is promised. */
function risen(
  of: (at: number[]) => Rising,
  { at, value, direction, promised, negligible }: Way,
): ({ at: number[] } & Rising) | null {
  for (let share = 1; share > 1e-8 && promised > negligible; share /= 3) {
    const there = at.map((from, axis) => from + share * direction[axis]!);
    const found = of(there);
    if (found.value > value + 1e-4 * share * promised) return { at: there, ...found };
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

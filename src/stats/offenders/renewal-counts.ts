/** Chances of so many events or more in a window of an age and length, in units of the scale: the k-th is P(N >= k), k = 0 to `most`. */
export type UpperChances = (age: number, length: number, most: number) => Float64Array;

/** Steps of the finer of the two grids on which sums of gaps are reckoned; of windows longer than so many gaps twice as many. */
const STEPS = 512;
const LONG = 64;

/**
 * Chances of counts in a renewal process with Weibull gaps of scale 1. Those of a window that starts with a renewal are the distributions
 * of sums of gaps, F_k(t) = integral of F_(k-1)(t - u) dF(u), each from the last by the trapezoid rule on exact steps of F, over a step and
 * over twice that, and from both by how their error falls; those of a window that starts at an age are the integral of F_(k-1) over what is
 * left after the rest of the first gap, by midpoints of equal chance. Windows have a grid with others of their length, to a factor of 2.
 * @see D. R. Cox, Renewal Theory, 1962, ch. 3; L. F. Richardson, Phil. Trans. R. Soc. A 226 (1927) 299-361, for the two steps
 */
export function renewalCounts(shape: number): UpperChances {
  const grids = new Map<number, UpperChances>();
  return (age, length, most) => {
    if (length === 0) return Float64Array.from({ length: most + 1 }, (_, k) => (k === 0 ? 1 : 0));
    const doublings = Math.ceil(Math.log2(length));
    const grid = grids.get(doublings) ?? gridCounts(shape, 2 ** doublings);
    grids.set(doublings, grid);
    return grid(age, length, most);
  };
}

/** The same for windows up to `longest`. */
function gridCounts(shape: number, longest: number): UpperChances {
  const steps = longest > LONG ? 2 * STEPS : STEPS;
  const fine = sumsOver(shape, longest, steps);
  const coarse = sumsOver(shape, longest, steps / 2);
  // Below a shape of 1 F starts too steeply for the rule's own order.
  const kept = 1 / (2 ** Math.min(2, 1 + shape) - 1);
  const sums: Float64Array[] = [];
  const sumAt = (k: number): Float64Array => {
    while (sums.length <= k) sums.push(refined(fine(sums.length), coarse(sums.length), kept));
    return sums[k]!;
  };
  const fresh = (k: number, length: number) => interpolated(sumAt(k), (length / longest) * steps);
  return (age, length, most) => {
    const chances = new Float64Array(most + 1);
    chances[0] = 1;
    const reach = age > 0 ? -Math.expm1(age ** shape - (age + length) ** shape) : 0;
    for (let k = 1; k <= most; k++) {
      chances[k] =
        age > 0 ? reach * restMean(age, length, shape, reach, (left) => fresh(k - 1, left)) : fresh(k, length);
    }
    return chances;
  };
}

/** Distributions of the sums of so many gaps up to `longest`, at points a step apart. */
function sumsOver(shape: number, longest: number, steps: number): (k: number) => Float64Array {
  const step = longest / steps;
  const first = Float64Array.from({ length: steps + 1 }, (_, at) => -Math.expm1(-((at * step) ** shape)));
  const gains = first.map((value, at) => (at === 0 ? 0 : gainOf(step, at, shape, value - first[at - 1]!)));
  const sums: Float64Array[] = [new Float64Array(steps + 1).fill(1), first];
  return (k) => {
    while (sums.length <= k) sums.push(nextSum(gains, sums.at(-1)!));
    return sums[k]!;
  };
}

/** Sums over a step that lie further from those over two, as a factor, are too few steps from 0 for either to tell the error. */
const FAR = 2;

/**
 * Sums without the most of their error, which is a share of what halving the steps made of it: by factors, for they span hundreds of powers of
 * ten; between two points of the coarse grid the mean of theirs.
 * @param left - the error that is left over the difference that halving made
 */
function refined(fine: Float64Array, coarse: Float64Array, left: number): Float64Array {
  const factors = coarse.map((value, at) => {
    const ratio = fine[2 * at]! / value;
    return ratio > 1 / FAR && ratio < FAR ? ratio ** left : 1;
  });
  return fine.map((value, at) => {
    const factor = at % 2 === 0 ? factors[at / 2]! : Math.sqrt(factors[(at - 1) / 2]! * factors[(at + 1) / 2]!);
    return Math.min(1, value * factor);
  });
}

/** Chance that a gap ends within a step of the grid, without cancellation. */
function gainOf(step: number, at: number, shape: number, difference: number): number {
  const before = ((at - 1) * step) ** shape;
  const within = (at * step) ** shape - before;
  return within < 1e-3 ? difference : Math.exp(-before) * -Math.expm1(-within);
}

/** Sums that are taken side by side in `nextSum`. */
const WIDTH = 4;

/**
 * The distribution of one gap more, from that of so many gaps and the chance that a gap ends within each step: Stieltjes, by the trapezoid
 * rule. Four places at a time, so that each number read serves four sums.
 */
export function nextSum(gains: Float64Array, last: Float64Array): Float64Array {
  const size = last.length;
  const next = new Float64Array(size);
  // Nothing stands before the first pair and after the last one.
  const pairs = new Float64Array(size + 2 * WIDTH);
  for (let at = 1; at < size; at++) pairs[at + WIDTH] = last[at - 1]! + last[at]!;
  for (let to = 1; to < size; to += WIDTH) {
    const from = to + WIDTH + 1;
    let [two, three, four] = [pairs[from]!, pairs[from + 1]!, pairs[from + 2]!];
    let [a, b, c, d] = [0, 0, 0, 0];
    const most = Math.min(to + WIDTH, size);
    for (let at = 1; at < most; at++) {
      const gain = gains[at]!;
      const one = pairs[from - at]!;
      a += gain * one;
      b += gain * two;
      c += gain * three;
      d += gain * four;
      [two, three, four] = [one, two, three];
    }
    next.set([a / 2, b / 2, c / 2, d / 2].slice(0, size - to), to);
  }
  return next;
}

/** Between points of the grid on the log scale, where sums of many gaps are nearly straight; near 0 plainly. */
function interpolated(values: Float64Array, at: number): number {
  const below = Math.min(Math.floor(at), values.length - 2);
  const [low, high] = [values[below]!, values[below + 1]!];
  const share = at - below;
  return low > 0 ? low * (high / low) ** share : high * share;
}

/** Midpoints of the first gap's chance. */
const MIDPOINTS = 64;

/** Mean of a function of what is left of the window once the first gap, known to end in it, has ended. */
function restMean(age: number, length: number, shape: number, reach: number, of: (left: number) => number): number {
  let sum = 0;
  for (let at = 0; at < MIDPOINTS; at++) {
    const chance = (reach * (at + 0.5)) / MIDPOINTS;
    const end = (age ** shape - Math.log1p(-chance)) ** (1 / shape);
    sum += of(Math.min(Math.max(length - (end - age), 0), length));
  }
  return sum / MIDPOINTS;
}

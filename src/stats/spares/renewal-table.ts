import { checkedAmount } from "./check-chances.ts";
import { extrapolated } from "./extrapolated.ts";
import { failuresAt } from "./failures-at.ts";
import { type RenewalGrid, renewalGrid } from "./renewal-grid.ts";
import type { Survival } from "./survival.ts";

/** Openings of units that share the law of every life but the first. */
export type RenewalTable = {
  /**
   * Expected openings of a unit up to a horizon.
   * @param first - survival of its present life from now on
   * @param horizon - 0 or more, in the unit of the lives, up to the table's longest
   */
  mean(first: Survival, horizon: number): number;
  /** The chance of each number of its openings, from 0 on; arguments as for `mean`. */
  counts(first: Survival, horizon: number): Float64Array;
};

/**
 * What units share of the renewal equation, tabulated once: M(t) = F(t) + integral of M(t - u) dF(u), and the distributions of sums of
 * lives. A unit then takes one Stieltjes sum over the distribution of its present life, and so has its age and its horizon for itself.
 * Sums are by the trapezoid rule at three spacings, extrapolated to none: expected openings to 1e-6 of themselves where the law is smooth.
 * @param later - survival of every life that starts anew
 * @param longest - longest horizon to be asked for, above 0, in the unit of the lives
 * @returns the table; or why there is none, where so many lives end within the horizon that it would be large
 * @throws RangeError for what is no survival function, or a horizon out of range
 * @see D. R. Cox, Renewal Theory, 1962, ch. 3 and 4; M. Xie, Communications in Statistics: Simulation and Computation 18 (1989) 281-293
 * @example
 * const table = renewalTable(firstSurvival([{ shape: 2, scale: 20_000 }]), 24_000);
 * if (!("reason" in table)) table.counts(firstSurvival([{ shape: 2, scale: 20_000, age: 7000 }]), 18_000);
 */
export function renewalTable(later: Survival, longest: number): RenewalTable | { reason: string } {
  if (checkedAmount("horizon", longest) === 0) throw new RangeError("Cannot tabulate renewals: the horizon is 0");
  failuresAt(later, longest, COARSE_STEPS);
  const lives = livesWithin(later, longest);
  if (lives > MOST_LIVES) {
    return { reason: `more than ${MOST_LIVES} lives of half the units end within the horizon` };
  }
  const grids = new Map<number, RenewalGrid>();
  const gridFor = (horizon: number): RenewalGrid => {
    const doublings = Math.max(0, Math.floor(Math.log2(longest / horizon)));
    const length = longest / 2 ** doublings;
    const points = pointsFor(livesWithin(later, length));
    const grid = grids.get(doublings) ?? renewalGrid(later, length, points);
    grids.set(doublings, grid);
    return grid;
  };
  const checked = (first: Survival, horizon: number): RenewalGrid | null => {
    if (!(checkedAmount("horizon", horizon) <= longest)) {
      throw new RangeError(`Cannot look ${horizon} ahead: the table ends at ${longest}`);
    }
    failuresAt(first, horizon, COARSE_STEPS);
    return horizon > 0 ? gridFor(horizon) : null;
  };
  return {
    mean: (first, horizon) => {
      const grid = checked(first, horizon);
      return grid === null ? 0 : Math.max(unitSums(grid, first, horizon)("mean"), 0);
    },
    counts: (first, horizon) => {
      const grid = checked(first, horizon);
      return grid === null ? Float64Array.of(1) : countsFrom(unitSums(grid, first, horizon));
    },
  };
}

const MOST_LIVES = 64;
/** At which a survival function is looked at before it is tabulated. */
const COARSE_STEPS = 4;
const [LEAST_POINTS, MOST_POINTS] = [256, 4096];
/** Lives for which the fewest points do. */
const LIVES_PER_GRID = 3;
const NEGLIGIBLE = 1e-15;

function pointsFor(lives: number): number {
  const doublings = Math.max(0, Math.ceil(Math.log2(lives / LIVES_PER_GRID)));
  return Math.min(LEAST_POINTS * 2 ** doublings, MOST_POINTS);
}

/** Median lives in a time: 1 or more. */
function livesWithin(survival: Survival, length: number): number {
  if (survival(length) > 0.5) return 1;
  let [low, high] = [0, length];
  for (let step = 0; step < 60 && high > (1 + 1e-3) * low; step++) {
    const middle = (low + high) / 2;
    if (survival(middle) > 0.5) low = middle;
    else high = middle;
  }
  return length / high;
}

/** Chance that openings number k or more, k from 1, or their mean. */
type UnitSums = (of: number | "mean") => number;

/** Points of the grid from which a sum is interpolated. */
const NEAR = 6;

function unitSums(grid: RenewalGrid, first: Survival, horizon: number): UnitSums {
  const { length, points, powers } = grid;
  const failed = failuresAt(first, length, points);
  const place = (horizon / length) * (points / 4);
  const from = Math.min(Math.max(Math.floor(place) - NEAR / 2 + 1, 0), points / 4 - NEAR + 1);
  const weights = lagrangeWeights(place - from);
  return (of) => {
    const at = (spacing: RenewalGrid["fine"]) => (of === "mean" ? spacing.mean : spacing.sums(of - 1));
    const [coarse, middle, fine] = [at(grid.coarse), at(grid.middle), at(grid.fine)];
    let sum = 0;
    for (let near = 0; near < NEAR; near++) {
      const to = from + near;
      const own = [
        stieltjes(failed, 4, coarse, to),
        stieltjes(failed, 2, middle, 2 * to),
        stieltjes(failed, 1, fine, 4 * to),
      ] as const;
      const plain = of === "mean" ? failed[4 * to]! : 0;
      sum += weights[near]! * (plain + extrapolated(own, powers));
    }
    return sum;
  };
}

/** Integral of values(t - u) dF(u), F given at each `stride`-th point, t the point `to` of the values. */
function stieltjes(failed: Float64Array, stride: number, values: Float64Array, to: number): number {
  let sum = 0;
  let last = failed[0]!;
  for (let at = 1; at <= to; at++) {
    const chance = failed[at * stride]!;
    sum += (chance - last) * (values[to - at]! + values[to - at + 1]!);
    last = chance;
  }
  return sum / 2;
}

/** Weights of values at 0, 1, 2... in the polynomial through them at `place`. */
function lagrangeWeights(place: number): Float64Array {
  return Float64Array.from({ length: NEAR }, (_, own) => {
    let weight = 1;
    for (let other = 0; other < NEAR; other++) if (other !== own) weight *= (place - other) / (own - other);
    return weight;
  });
}

function countsFrom(sums: UnitSums): Float64Array {
  const upper = [1];
  for (let k = 1; upper[k - 1]! > NEGLIGIBLE; k++) upper.push(Math.min(Math.max(sums(k), 0), upper[k - 1]!));
  const chances = new Float64Array(Math.max(upper.length - 1, 1));
  for (let k = 0; k < chances.length; k++) chances[k] = upper[k]! - (upper[k + 1] ?? 0);
  return chances;
}

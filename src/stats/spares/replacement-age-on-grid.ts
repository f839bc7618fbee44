import {
  checkCosts,
  NO_DEARER,
  type NoReplacementAge,
  type ReplacementAge,
  type ReplacementCosts,
} from "./replacement-costs.ts";

/** Survival of any law at ages; straight between them. An age that comes twice is a drop. */
export type SurvivalGrid = {
  /** Rising from 0. */
  age: Float64Array;
  /** From 1, never rising, 0 or more. */
  survival: Float64Array;
};

/**
 * The age for a planned replacement that costs least in the long run, under any survival curve: the least of
 * (planned S + unplanned F) / integral of S over the grid, and between its points where that is in closed form. Costs of replacing at
 * failure alone need the whole curve, to where no life is left; of one that ends before, they are reckoned as if all that are left failed there.
 * @param grid - ages and survival
 * @param costs - of a planned and an unplanned replacement
 * @returns the age and what it costs; or why none on the grid is best
 * @throws RangeError for what is no survival curve, or no cost
 * @see R. E. Barlow & F. Proschan, Mathematical Theory of Reliability, 1965, ch. 4
 * @example
 * const found = replacementAgeOnGrid({ age: Float64Array.of(0, 1), survival: Float64Array.of(1, 0) }, { planned: 1, unplanned: 5 });
 * if (found.found) found.age; // 0.5, at a cost rate of 8
 */
export function replacementAgeOnGrid(grid: SurvivalGrid, costs: ReplacementCosts): ReplacementAge | NoReplacementAge {
  checkGrid(grid);
  checkCosts(costs);
  const { planned, unplanned } = costs;
  if (unplanned <= planned) return { found: false, reason: NO_DEARER };
  const { best, whole } = leastCost(grid, costs);
  const runToFailureRate = unplanned / whole;
  const last = grid.age[grid.age.length - 1]!;
  if (best === null || best.rate >= runToFailureRate * (1 - NOTHING)) {
    return { found: false, reason: "no age on the curve costs less than replacing at failure alone" };
  }
  if (best.age >= last) return { found: false, reason: "the cost still falls where the curve ends" };
  return {
    found: true,
    age: best.age,
    costRate: best.rate,
    runToFailureRate,
    saving: 1 - best.rate / runToFailureRate,
    plannedShare: best.survival,
    meanInterval: best.run,
  };
}

/** A share of the cost that is no saving, but rounding. */
const NOTHING = 1e-9;

/** An age for replacement: lives that reach it, mean time run up to it, cost a unit of time. */
type Candidate = { age: number; survival: number; run: number; rate: number };

function leastCost(
  { age, survival }: SurvivalGrid,
  costs: ReplacementCosts,
): { best: Candidate | null; whole: number } {
  let [best, run]: [Candidate | null, number] = [null, 0];
  for (let at = 1; at < age.length; at++) {
    const width = age[at]! - age[at - 1]!;
    if (width === 0) continue;
    const from = { age: age[at - 1]!, survival: survival[at - 1]!, run };
    const slope = (survival[at - 1]! - survival[at]!) / width;
    for (const further of [turningPoint(from, slope, width, costs), width]) {
      const found = candidate(from, slope, further, costs);
      if (best === null || found.rate < best.rate) best = found;
    }
    run += (width * (survival[at - 1]! + survival[at]!)) / 2;
  }
  return { best, whole: run };
}

function candidate(from: Omit<Candidate, "rate">, slope: number, further: number, costs: ReplacementCosts): Candidate {
  const survival = from.survival - slope * further;
  const run = from.run + further * (from.survival - (slope * further) / 2);
  const cost = costs.planned + (costs.unplanned - costs.planned) * (1 - survival);
  return { age: from.age + further, survival, run, rate: cost / run };
}

/** Where the cost rate turns on a straight piece: a root of a quadratic; the end of the piece where it does not. */
function turningPoint(from: Omit<Candidate, "rate">, slope: number, width: number, costs: ReplacementCosts): number {
  const extra = costs.unplanned - costs.planned;
  const cost = costs.planned + extra * (1 - from.survival);
  const [half, rest] = [cost * slope, extra * slope * from.run - cost * from.survival];
  const square = half ** 2 - 2 * extra * slope ** 2 * rest;
  // 2 rest / (-b - root): no cancellation, and right for a flat piece, where it is no number
  const place = (-2 * rest) / (half + Math.sqrt(square));
  return place > 0 && place < width ? place : width;
}

function checkGrid({ age, survival }: SurvivalGrid): void {
  const rises = age.every((one, at) => one >= (at === 0 ? 0 : age[at - 1]!) && one < Number.POSITIVE_INFINITY);
  const falls = survival.every((one, at) => one >= 0 && one <= (at === 0 ? 1 : survival[at - 1]!));
  const starts = age[0] === 0 && survival[0] === 1 && age[age.length - 1]! > 0;
  if (!(age.length === survival.length && rises && falls && starts)) {
    throw new RangeError("Cannot use a survival curve that does not start at age 0 with 1 and fall from there");
  }
}

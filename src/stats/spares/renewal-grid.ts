import { nextSum } from "../offenders/renewal-counts.ts";
import { errorPowers } from "./extrapolated.ts";
import { failuresAt } from "./failures-at.ts";
import type { Survival } from "./survival.ts";

/** Renewals up to a time, tabulated at one spacing. */
type Spacing = {
  /** Expected number of renewals up to each point. */
  mean: Float64Array;
  /** Chance that a sum of k lives ends by each point; k = 0 is 1 throughout. */
  sums: (k: number) => Float64Array;
};

/** Renewals of one law of lives up to `length`, at three spacings, the next half the last. */
export type RenewalGrid = {
  length: number;
  /** Steps of the finest spacing, a multiple of 4. */
  points: number;
  coarse: Spacing;
  middle: Spacing;
  fine: Spacing;
  /** By which the errors of sums over these spacings fall. */
  powers: [number, number];
};

/** Tabulates what units of one law share. */
export function renewalGrid(later: Survival, length: number, points: number): RenewalGrid {
  const [coarse, middle, fine] = [points / 4, points / 2, points].map((steps) => spacingOf(later, length, steps));
  return {
    length,
    points,
    coarse: coarse!,
    middle: middle!,
    fine: fine!,
    powers: errorPowers(later, length / points),
  };
}

function spacingOf(later: Survival, length: number, steps: number): Spacing {
  const failed = failuresAt(later, length, steps);
  const gains = failed.map((chance, at) => (at === 0 ? 0 : chance - failed[at - 1]!));
  const sums: Float64Array[] = [new Float64Array(steps + 1).fill(1), failed];
  return {
    mean: meanRenewals(failed, gains),
    sums: (k) => {
      while (sums.length <= k) sums.push(nextSum(gains, sums[sums.length - 1]!));
      return sums[k]!;
    },
  };
}

/** Solves M(t) = F(t) + integral of M(t - u) dF(u), by the trapezoid rule; M(t) itself stands in the first step. */
function meanRenewals(failed: Float64Array, gains: Float64Array): Float64Array {
  const mean = new Float64Array(failed.length);
  for (let to = 1; to < mean.length; to++) {
    let sum = gains[1]! * mean[to - 1]!;
    for (let at = 2; at <= to; at++) sum += gains[at]! * (mean[to - at]! + mean[to - at + 1]!);
    mean[to] = (failed[to]! + sum / 2) / (1 - gains[1]! / 2);
  }
  return mean;
}

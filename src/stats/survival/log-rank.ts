import { chiSquareTail } from "../chi-square-tail.ts";
import type { Lives } from "../lives.ts";
import { type GroupSums, sumOverFailures } from "./group-sums.ts";
import { quadraticForm } from "./laplacian-form.ts";
import type { Groups } from "./strata.ts";
import { endsByStratum } from "./stratum-ends.ts";

/** A group in a log-rank test. */
export type ComparedGroup = {
  /** All strata together, each as often as its count says. */
  lives: number;
  /** Failures among them. */
  failures: number;
  /** Failures, each with its weight; with rho = 0 all weights are 1. */
  observed: number;
  /** The same, expected were the hazard that of all groups together at each age. */
  expected: number;
};

/** A log-rank test. Where no groups can be compared, `statistic` and `p` are null and `reason` says why. */
export type LogRank = {
  /** In the order of their numbers. */
  groups: ComparedGroup[];
  /** Of the differences observed - expected, by group and group. */
  covariance: Float64Array[];
  /** Chi-square with `degrees` degrees of freedom where the groups have one hazard. */
  statistic: number | null;
  /** Groups less the sets of groups that are nowhere at risk together. */
  degrees: number;
  /** Two-sided. */
  p: number | null;
  reason?: string;
};

/**
 * Log-rank test that groups have one hazard, by the variance form (not the sum of (observed - expected)^2 / expected),
 * for exact and right-censored lives with late entry and counts. A failure at t weighs S(t-)^rho, where S is the
 * Kaplan-Meier survival of all groups of its stratum together: rho = 0 is the log-rank test, rho = 1 Peto and Peto's
 * variant, which gives more to early failures. With strata, groups are compared within each and the sums added.
 * @param lives - exact or right-censored
 * @param groups - a group for each life, and a stratum where there are some
 * @param options - `rho`: 0 or more; 0 where not given
 * @returns chi-square, degrees and p, and for each group what it had and was expected to have
 * @throws RangeError for columns that are not lives, a group or stratum that is no number of one, or a rho out of range
 * @see D. P. Harrington & T. R. Fleming, Biometrika 69 (1982) 553-566; Klein & Moeschberger, Survival Analysis, ch. 7
 * @example logRank(lives, { group: Int32Array.of(0, 0, 1, 1), groups: 2 });
 */
export function logRank(lives: Lives, groups: Groups, { rho = 0 }: { rho?: number } = {}): LogRank {
  if (!(rho >= 0 && rho < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot compare lives: rho must be 0 or more, found ${rho}`);
  }
  const zeros = () => new Float64Array(groups.groups);
  const sums: GroupSums = {
    lives: zeros(),
    failures: zeros(),
    observed: zeros(),
    expected: zeros(),
    shared: Array.from({ length: groups.groups }, zeros),
  };
  for (const stratum of endsByStratum(lives, groups)) sumOverFailures(stratum, groups.groups, rho, sums);
  const difference = sums.observed.map((observed, group) => observed - sums.expected[group]!);
  const { value, degrees } = quadraticForm(sums.shared, difference);
  const found = {
    groups: Array.from(sums.lives, (all, group) => ({
      lives: all,
      failures: sums.failures[group]!,
      observed: sums.observed[group]!,
      expected: sums.expected[group]!,
    })),
    covariance: covarianceOf(sums.shared),
    degrees,
  };
  if (degrees > 0) return { ...found, statistic: value, p: chiSquareTail(value, degrees) };
  const reason = "no two groups have lives at risk together at a failure that not all share";
  return { ...found, statistic: null, p: null, reason };
}

function covarianceOf(shared: Float64Array[]): Float64Array[] {
  return shared.map((row, at) => {
    const covariances = row.map((common) => (common === 0 ? 0 : -common));
    covariances[at] = row.reduce((sum, common) => sum + common, 0);
    return covariances;
  });
}

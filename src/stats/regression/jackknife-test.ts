import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { fTail } from "../f-tail.ts";
import { jackknifeDegrees } from "../jackknife-spread.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { jackknifeCovariance } from "./jackknife-covariance.ts";

/** `f` with its degrees of freedom, `degrees` above (how many numbers are tested) and `below`, and the p-value. */
export type JackknifeTest = { f: number; degrees: number; below: number; p: number };

/**
 * Tests that several numbers of a regression are 0 together, by their jackknife covariance V: T2 = b' V^-1 b, b being less its jackknife bias, is
 * taken as Hotelling's, so that for q numbers and m degrees F = (m - q + 1) T2 / (m q) has q and m - q + 1. With G clusters m is G - 1 where the
 * refits scatter as normal ones would, and less as their kurtosis over all q directions is more: for one number this is the t test of
 * `jackknifeContrast`.
 * @param refits - from `refitWithoutClusters`, or of another regression
 * @param which - places of the numbers, from 0
 * @returns the test, or why there is none
 * @throws RangeError for places that are none, or no place
 * @see Anderson, An Introduction to Multivariate Statistical Analysis, section 5.2; K. V. Mardia, Biometrika 57 (1970) 519-530 (kurtosis)
 * @example jackknifeTest(refits, [1, 2, 3]);
 */
export function jackknifeTest(refits: ClusterRefits, which: readonly number[]): JackknifeTest | { reason: string } {
  const { full, without } = refits;
  if (which.length === 0 || which.some((one) => !(one in full)) || new Set(which).size < which.length) {
    throw new RangeError(`Cannot test coefficients: found places ${which.join(", ")} among ${full.length}`);
  }
  const [groups, q] = [without.length, which.length];
  if (groups <= q) return { reason: tooFew(q, groups) };
  const covariance = jackknifeCovariance(refits);
  const unit = which.map((one) => Math.sqrt(covariance[one]![one]!));
  if (!unit.every((value) => value > 0)) return { reason: ALIKE };
  const scatter = which.map((one, at) => which.map((other, to) => covariance[one]![other]! / (unit[at]! * unit[to]!)));
  const hill = new CholeskyDecomposition(new Matrix(scatter));
  if (!hill.isPositiveDefinite()) return { reason: ALIKE };
  const square = (numbers: number[]) => {
    const column = Matrix.columnVector(numbers.map((value, at) => value / unit[at]!));
    return column.dot(hill.solve(column));
  };
  const mean = which.map((one) => without.reduce((sum, numbers) => sum + numbers[one]!, 0) / groups);
  const centre = which.map((one, at) => full[one]! - (groups - 1) * (mean[at]! - full[one]!));
  const fourths = without.reduce((sum, own) => sum + square(which.map((one, at) => own[one]! - mean[at]!)) ** 2, 0);
  const kurtosis = (fourths * (groups - 1) ** 2) / groups / (q * (q + 2));
  const m = jackknifeDegrees(groups, 3 * (kurtosis - 1));
  const below = m - q + 1;
  if (below < 1) return { reason: tooFew(q, groups) };
  const f = (below * square(centre)) / (m * q);
  return { f, degrees: q, below, p: fTail(f, q, below) };
}

const ALIKE = "the fits without one unit are too much alike in these coefficients to tell their errors";

function tooFew(coefficients: number, units: number): string {
  return `${units} units are too few to test ${coefficients} coefficients together`;
}

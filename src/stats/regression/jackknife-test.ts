import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { fTail } from "../f-tail.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { jackknifeCovariance } from "./jackknife-covariance.ts";

/** Hotelling's test: `f` with `degrees` above and `below`, and its p-value. */
export type JackknifeTest = { f: number; degrees: number; below: number; p: number };

/**
 * Tests that several numbers of a regression are 0 together, by their jackknife covariance: T2 = b' V^-1 b of q numbers and G clusters is
 * taken as Hotelling's with G - 1 degrees, so that F = (G - q) T2 / (q (G - 1)) has q and G - q.
 * @param refits - from `refitWithoutClusters`, or of another regression
 * @param which - places of the numbers, from 0
 * @returns the test, or why there is none
 * @throws RangeError for places that are none, or no place
 * @see H. Hotelling, Annals of Mathematical Statistics 2 (1931) 360-378; Anderson, An Introduction to Multivariate Statistical Analysis, section 5.2
 * @example jackknifeTest(refits, [1, 2, 3]);
 */
export function jackknifeTest(refits: ClusterRefits, which: readonly number[]): JackknifeTest | { reason: string } {
  const { full, without } = refits;
  if (which.length === 0 || which.some((one) => !(one in full)) || new Set(which).size < which.length) {
    throw new RangeError(`Cannot test coefficients: found places ${which.join(", ")} among ${full.length}`);
  }
  const below = without.length - which.length;
  if (below < 1) return { reason: `${which.length} coefficients are more than ${without.length} units can test` };
  const covariance = jackknifeCovariance(refits);
  const units = which.map((one) => Math.sqrt(covariance[one]![one]!));
  if (units.some((unit) => !(unit > 0))) return { reason: ALIKE };
  const own = which.map((one, at) =>
    which.map((other, beside) => covariance[one]![other]! / (units[at]! * units[beside]!)),
  );
  const hill = new CholeskyDecomposition(new Matrix(own));
  if (!hill.isPositiveDefinite()) return { reason: ALIKE };
  const b = Matrix.columnVector(which.map((one, at) => full[one]! / units[at]!));
  const square = b.dot(hill.solve(b));
  const f = (below * square) / (which.length * (without.length - 1));
  return { f, degrees: which.length, below, p: fTail(f, which.length, below) };
}

const ALIKE = "the fits without one unit are too much alike in these coefficients to tell their errors";

import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { type ChiSquareTest, chiSquareTest } from "./chi-square-test.ts";

/**
 * Wald's test that several numbers are 0 together: b' V^-1 b, chi-square with as many degrees as there are numbers.
 * @param numbers - those fitted
 * @param covariance - of them, from the information or robust
 * @param which - places of the numbers that are tested, from 0
 * @returns the test; null where the covariance can't tell them apart
 * @throws RangeError for places that are none, or no place
 * @see Therneau & Grambsch, Modeling Survival Data: Extending the Cox Model, section 3.4
 * @example waldTest(fit.coefficients, fit.covariance, [1, 2]);
 */
export function waldTest(
  numbers: ArrayLike<number>,
  covariance: readonly ArrayLike<number>[],
  which: readonly number[],
): ChiSquareTest | null {
  if (which.length === 0 || which.some((one) => !(one in covariance)) || new Set(which).size < which.length) {
    throw new RangeError(`Cannot test coefficients: found places ${which.join(", ")} among ${covariance.length}`);
  }
  const units = which.map((one) => Math.sqrt(covariance[one]![one]!));
  if (!units.every((unit) => unit > 0)) return null;
  // symmetric to the last digit, which the product of matrices that a robust covariance is need not be
  const own = which.map((one, at) =>
    which.map(
      (other, beside) => (covariance[one]![other]! + covariance[other]![one]!) / 2 / (units[at]! * units[beside]!),
    ),
  );
  const hill = new CholeskyDecomposition(new Matrix(own));
  if (!hill.isPositiveDefinite()) return null;
  const b = Matrix.columnVector(which.map((one, at) => numbers[one]! / units[at]!));
  return chiSquareTest(b.dot(hill.solve(b)), which.length);
}

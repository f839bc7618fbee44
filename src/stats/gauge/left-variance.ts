import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { type Covariate, checkCovariates } from "../regression/covariates.ts";

/**
 * Variance of readings that other covariates leave unexplained by a straight line: the residual sum of squares over its degrees of freedom.
 * Without others, the usual variance. What a gauge's error shrinks a slope by goes by this, not by the whole variance. Covariates may
 * repeat each other.
 * @param readings - one a life, finite
 * @param others - covariates of the same lives
 * @returns a variance, 0 or more; null where there are no more lives than the line takes up
 * @throws RangeError for a value that is no number, or columns of unequal length
 * @see R. J. Carroll, D. Ruppert, L. A. Stefanski & C. M. Crainiceanu, Measurement Error in Nonlinear Models, 2nd ed., 2006, ch. 3.3
 * @example leftVariance(Float64Array.of(2, 4, 6, 8), []); // 6.667
 */
export function leftVariance(readings: Float64Array, others: readonly Covariate[]): number | null {
  checkCovariates([{ name: "reading", values: readings }, ...others], readings.length);
  if (readings.length < 2) return null;
  const { values, squares } = standard(readings);
  const columns = others.map((other) => standard(other.values)).filter((column) => column.squares > 0);
  const [explained, rank] = explainedBy(
    columns.map((column) => column.values),
    values,
  );
  const degrees = readings.length - 1 - rank;
  return degrees < 1 ? null : (squares * Math.max(0, 1 - explained)) / degrees;
}

/** A column less its mean, of length 1; nothing where it is constant but for rounding. */
function standard(column: Float64Array): { values: Float64Array; squares: number } {
  let mean = 0;
  for (let row = 0; row < column.length; row++) mean += (column[row]! - mean) / (row + 1);
  const values = column.map((value) => value - mean);
  const squares = inner(values, values);
  const length = Math.sqrt(squares);
  if (!(length > ROUNDING * Math.sqrt(inner(column, column)))) return { values: values.fill(0), squares: 0 };
  return { values: values.map((value) => value / length), squares };
}

const ROUNDING = 1e-13;

/** Share of the readings' squares that columns explain, and how many of them say something of their own. */
function explainedBy(columns: Float64Array[], readings: Float64Array): [explained: number, rank: number] {
  if (columns.length === 0) return [0, 0];
  const along = columns.map((column) => inner(column, readings));
  const crossed = new Matrix(columns.map((one) => columns.map((other) => inner(one, other))));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(crossed, { assumeSymmetric: true });
  let [explained, rank] = [0, 0];
  for (const [axis, length] of realEigenvalues.entries()) {
    if (length < DEPENDENT * columns.length) continue;
    const shared = along.reduce((sum, own, column) => sum + own * eigenvectorMatrix.get(column, axis), 0);
    explained += shared ** 2 / length;
    rank++;
  }
  return [explained, rank];
}

/** Below this share of the columns' squares an axis is rounding. */
const DEPENDENT = 1e-11;

function inner(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < one.length; row++) sum += one[row]! * other[row]!;
  return sum;
}

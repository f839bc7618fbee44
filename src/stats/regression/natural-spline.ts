import { sampleQuantile } from "../sample-quantile.ts";

/**
 * Curves of a number that are cubic between knots, smooth at them, and straight beyond the outer two. `low` and `high` are the outer knots.
 */
export type NaturalSpline = { low: number; knots: number[]; high: number };

/** Where the inner knots of a spline stand: given, or at quantiles so that the curve has so many degrees of freedom. */
export type SplineShape =
  | { df: number; boundaryKnots?: readonly [number, number] }
  | { knots: readonly number[]; boundaryKnots?: readonly [number, number] };

/**
 * A natural cubic spline over values: df - 1 inner knots at quantiles of them (R's type 7), or the knots given; outer knots at the least and the
 * largest value, or as given. `splineColumns` gives its columns.
 * @param values - finite numbers
 * @param shape - degrees of freedom, a whole number of 1 or more, or inner knots in rising order; outer knots
 * @returns the knots, or why there can be none: values too few or too much alike
 * @throws RangeError for values, knots or degrees of freedom that are none
 * @see Hastie, Tibshirani & Friedman, The Elements of Statistical Learning, section 5.2.1; Harrell, Regression Modeling Strategies, section 2.4.5
 * @example naturalSpline(Float64Array.of(2, 3, 4, 5, 6, 7, 8), { df: 3 }); // inner knots at 4 and 6
 */
export function naturalSpline(values: Float64Array, shape: SplineShape): NaturalSpline | { reason: string } {
  const sorted = values.slice().sort();
  if (sorted.length === 0 || !sorted.every(Number.isFinite)) {
    throw new RangeError("Cannot lay a spline: there are no values, or one of them is no number");
  }
  const [low, high] = shape.boundaryKnots ?? [sorted[0]!, sorted.at(-1)!];
  if (!(Number.isFinite(low) && Number.isFinite(high) && low <= high)) {
    throw new RangeError(`Cannot lay a spline: found outer knots ${low} and ${high}`);
  }
  const inside = sorted.filter((value) => value >= low && value <= high);
  const knots = "knots" in shape ? [...shape.knots] : quantileKnots(inside, checkedDegrees(shape.df));
  if (!knots.every(Number.isFinite)) throw new RangeError(`Cannot lay a spline: found knots ${knots.join(", ")}`);
  const all = [low, ...knots, high];
  if (all.every((knot, at) => at === 0 || knot > all[at - 1]!))
    return distinctRefusal(inside, knots) ?? { low, knots, high };
  if ("knots" in shape) throw new RangeError(`Cannot lay a spline: its knots ${all.join(", ")} do not rise`);
  return { reason: `too few different values: knots at ${all.join(", ")} fall together` };
}

function checkedDegrees(df: number): number {
  if (Number.isInteger(df) && df >= 1) return df;
  throw new RangeError(`Cannot lay a spline: degrees of freedom must be a whole number of 1 or more, found ${df}`);
}

function quantileKnots(sorted: Float64Array, df: number): number[] {
  return Array.from({ length: df - 1 }, (_, at) => sampleQuantile(sorted, (at + 1) / df));
}

function distinctRefusal(inside: Float64Array, knots: readonly number[]): { reason: string } | null {
  const needed = knots.length + 2;
  const found = new Set(inside).size;
  if (found >= needed) return null;
  return {
    reason: `too few different values: ${found}, where a curve with ${needed - 1} degrees of freedom needs ${needed}`,
  };
}

/**
 * Columns of a spline for values, within its knots and beyond: the first is straight, the others (one for each inner knot) bend. A regression
 * on all of them is one on the curve; that the others have coefficients of 0 says that it is straight. The curves are those of R's
 * `splines::ns`, otherwise written.
 * @param spline - its knots
 * @param values - finite numbers
 * @returns one column more than there are inner knots, each as long as the values, of order 1
 * @throws RangeError for a value that is no number
 * @see Hastie, Tibshirani & Friedman, The Elements of Statistical Learning, section 5.2.1
 * @example splineColumns({ low: 0, knots: [1], high: 2 }, Float64Array.of(0, 1, 2)); // [0, 0.5, 1] and [0, 0.125, 0.75]
 */
export function splineColumns({ low, knots, high }: NaturalSpline, values: Float64Array): Float64Array[] {
  if (!values.every(Number.isFinite)) throw new RangeError("Cannot take a spline of a value that is no number");
  const range = high - low;
  const share = values.map((value) => (value - low) / range);
  const places = [0, ...knots.map((knot) => (knot - low) / range)];
  const last = places.at(-1)!;
  const bends = places.slice(0, -1).map((place) => share.map((x) => bend(x, place) - bend(x, last)));
  return [share, ...bends];
}

/** (x - place)+^3 less (x - 1)+^3, over 1 - place: straight from 1 on. */
function bend(x: number, place: number): number {
  return (Math.max(x - place, 0) ** 3 - Math.max(x - 1, 0) ** 3) / (1 - place);
}

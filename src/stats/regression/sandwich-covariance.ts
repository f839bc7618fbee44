import { Matrix } from "ml-matrix";

/**
 * Robust covariance of a fit whose rows come in clusters: C S C, C being its covariance and S the sum over clusters of the products of their
 * summed score residuals. No small-sample factor. It is too small where clusters are few; the jackknife is less so.
 * @param covariance - of the fit, its inverse information
 * @param scores - score residuals, a column for each parameter of the covariance
 * @param cluster - a number for each row
 * @returns of the same parameters
 * @throws RangeError for columns of unequal length, or another number of them than the covariance has
 * @see Lin & Wei, JASA 84 (1989) 1074-1078; Therneau & Grambsch, Modeling Survival Data: Extending the Cox Model, section 7.2
 * @example sandwichCovariance(fit.covariance, scoreResiduals(lives, covariates, fit), unit);
 */
export function sandwichCovariance(
  covariance: readonly (readonly number[])[],
  scores: readonly Float64Array[],
  cluster: Int32Array,
): number[][] {
  if (scores.length !== covariance.length || scores.some((column) => column.length !== cluster.length)) {
    throw new RangeError(
      `Cannot take a robust covariance: ${scores.length} columns of scores for ${covariance.length} parameters and ${cluster.length} rows`,
    );
  }
  const place = placesOf(cluster);
  const sums = Matrix.zeros(place.clusters, scores.length);
  for (const [one, column] of scores.entries()) {
    const sum = new Float64Array(place.clusters);
    for (let row = 0; row < column.length; row++) sum[place.of[row]!]! += column[row]!;
    sums.setColumn(one, sum);
  }
  const bread = new Matrix(covariance.map((row) => [...row]));
  return bread.mmul(sums.transpose().mmul(sums)).mmul(bread).to2DArray();
}

/** Numbers clusters from 0 in the order in which they first appear. */
export function placesOf(cluster: Int32Array): { of: Int32Array; clusters: number } {
  const places = new Map<number, number>();
  const of = cluster.map((one) => {
    const known = places.get(one) ?? places.size;
    if (known === places.size) places.set(one, known);
    return known;
  });
  return { of, clusters: places.size };
}

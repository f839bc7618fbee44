/**
 * Quantile of a sample, linear between order statistics at (n - 1) p: type 7 of Hyndman & Fan, American Statistician 50 (1996) 361-365.
 * @param sorted - in rising order, at least one
 * @param p - 0 to 1
 */
export function sampleQuantile(sorted: Float64Array, p: number): number {
  const place = (sorted.length - 1) * p;
  const below = Math.floor(place + 4 * Number.EPSILON);
  const share = place - below;
  const from = sorted[below]!;
  return share > 1e-12 && below + 1 < sorted.length ? from + share * (sorted[below + 1]! - from) : from;
}

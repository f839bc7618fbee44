/** What is taken off each value of a covariate and what it is then divided by, so that all are of one size. */
export type Scale = { centre: number; size: number };

/** What is left of a covariate that is alike for all lives is rounding below this share of it. */
const ROUNDING = 1e-13;

/** Weighted mean and standard deviation of a covariate; a size of 0 where it is alike for all lives that count. */
export function scaleOf(values: Float64Array, weight: Float64Array | null): Scale {
  const largest = largestOf(values, weight);
  if (largest === 0) return { centre: 0, size: 0 };
  let [sum, whole] = [0, 0];
  for (let life = 0; life < values.length; life++) {
    const own = weight === null ? 1 : weight[life]!;
    if (own > 0) sum += own * (values[life]! / largest);
    whole += own;
  }
  const mean = sum / whole;
  let squares = 0;
  for (let life = 0; life < values.length; life++) {
    const own = weight === null ? 1 : weight[life]!;
    if (own > 0) squares += own * (values[life]! / largest - mean) ** 2;
  }
  const spread = Math.sqrt(squares / whole);
  return { centre: mean * largest, size: spread > ROUNDING * Math.abs(mean) ? spread * largest : 0 };
}

function largestOf(values: Float64Array, weight: Float64Array | null): number {
  let largest = 0;
  for (let life = 0; life < values.length; life++) {
    const size = Math.abs(values[life]!);
    if (size > largest && (weight === null || weight[life]! > 0)) largest = size;
  }
  return largest;
}

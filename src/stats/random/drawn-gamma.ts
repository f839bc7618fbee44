import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";

/**
 * A draw of a gamma variable of unit scale by squeeze and rejection; below a shape of 1 from the next shape, times a power of a uniform.
 * 0 for a shape of 0.
 * @see G. Marsaglia & W. W. Tsang, ACM Trans. Mathematical Software 26 (2000) 363-372
 */
export function drawnGamma(shape: number, stream: { uniform(): number }): number {
  if (shape === 0) return 0;
  if (shape < 1) return drawnGamma(shape + 1, stream) * positive(stream) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const normal = normalQuantile(positive(stream), 0, 1);
    const cube = (1 + c * normal) ** 3;
    if (cube > 0 && Math.log(positive(stream)) < (normal * normal) / 2 + d * (1 - cube + Math.log(cube))) {
      return d * cube;
    }
  }
}

function positive(stream: { uniform(): number }): number {
  return Math.max(stream.uniform(), Number.EPSILON / 2);
}

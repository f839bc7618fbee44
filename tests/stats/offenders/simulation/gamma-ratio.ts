import type { Stream } from "../../../../src/stats/random/stream.ts";

/** A gamma ratio of mean 1 and the given coefficient of variation below 1, by Marsaglia and Tsang's method (ACM TOMS 26 (2000) 363-372). */
export function gammaRatio(random: Stream, variation: number): number {
  const shape = variation ** -2;
  const d = shape - 1 / 3;
  for (;;) {
    const normal = Math.sqrt(-2 * Math.log1p(-random.uniform())) * Math.cos(2 * Math.PI * random.uniform());
    const cube = (1 + normal / Math.sqrt(9 * d)) ** 3;
    if (cube <= 0) continue;
    if (Math.log1p(-random.uniform()) < normal ** 2 / 2 + d - d * cube + d * Math.log(cube)) return (d * cube) / shape;
  }
}

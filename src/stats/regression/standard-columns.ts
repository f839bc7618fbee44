import type { Covariate } from "./covariates.ts";

/** A covariate as a fit takes it: (value - middle) / reach, which is of order 1 whatever its unit and however far from 0 it lies. */
export type StandardColumn = { name: string; values: Float64Array; middle: number; reach: number };

/**
 * Covariates about their mean, by their largest distance from it.
 * @param count - how many lives each row stands for; those of 0 don't count
 */
export function standardColumns(covariates: readonly Covariate[], count: Float64Array | undefined): StandardColumn[] {
  return covariates.map(({ name, values }) => {
    const middle = meanOf(values, count);
    let reach = 0;
    for (let row = 0; row < values.length; row++) {
      const off = count?.[row] === 0 ? 0 : Math.abs(values[row]! - middle);
      if (off > reach) reach = off;
    }
    return { name, values, middle, reach };
  });
}

function meanOf(values: Float64Array, count: Float64Array | undefined): number {
  let [sum, lives] = [0, 0];
  for (let row = 0; row < values.length; row++) {
    const own = count === undefined ? 1 : count[row]!;
    sum += own * values[row]!;
    lives += own;
  }
  return lives > 0 ? sum / lives : 0;
}

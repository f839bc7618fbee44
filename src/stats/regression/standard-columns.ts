import type { Covariate } from "./covariates.ts";

/** A covariate as a fit takes it: (value - middle) / reach, which is of order 1 whatever its unit and however far from 0 it lies. */
export type StandardColumn = { name: string; values: Float64Array; middle: number; reach: number };

/**
 * Covariates about their mean, by their largest distance from it.
 * @param count - how many lives each row stands for; those of 0 don't count
 */
export function standardColumns(covariates: readonly Covariate[], count: Float64Array | undefined): StandardColumn[] {
  return covariates.map(({ name, values }) => {
    const used = count === undefined ? values : values.filter((_, row) => count[row]! > 0);
    const middle = meanOf(values, count);
    return { name, values, middle, reach: reachOf(used, middle) };
  });
}

function meanOf(values: Float64Array, count: Float64Array | undefined): number {
  let sum = 0;
  if (count === undefined) {
    for (let row = 0; row < values.length; row++) sum += values[row]!;
    return sum / values.length;
  }
  let lives = 0;
  for (let row = 0; row < values.length; row++) {
    sum += count[row]! * values[row]!;
    lives += count[row]!;
  }
  return sum / lives;
}

function reachOf(values: Float64Array, middle: number): number {
  let reach = 0;
  for (let row = 0; row < values.length; row++) reach = Math.max(reach, Math.abs(values[row]! - middle));
  return reach;
}

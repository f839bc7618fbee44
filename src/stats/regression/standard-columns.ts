import type { Covariate } from "./covariates.ts";

/** A covariate as a fit takes it: (value - middle) / reach, which is of order 1 whatever its unit and however far from 0 it lies. */
export type StandardColumn = { name: string; values: Float64Array; middle: number; reach: number };

/**
 * Covariates about their mean, by their largest distance from it.
 * @param count - how many lives each row stands for; those of 0 don't count
 */
export function standardColumns(covariates: readonly Covariate[], count: Float64Array | undefined): StandardColumn[] {
  return covariates.map(({ name, values }) => {
    const { mean, least, most } = count === undefined ? spanOf(values) : countedSpan(values, count);
    return { name, values, middle: mean, reach: Math.max(most - mean, mean - least) };
  });
}

type Span = { mean: number; least: number; most: number };

function spanOf(values: Float64Array): Span {
  let sum = 0;
  let least = values[0]!;
  let most = least;
  for (let row = 0; row < values.length; row++) {
    const value = values[row]!;
    sum += value;
    if (value < least) least = value;
    else if (value > most) most = value;
  }
  return { mean: sum / values.length, least, most };
}

function countedSpan(values: Float64Array, count: Float64Array): Span {
  const { least, most } = spanOf(values.filter((_, row) => count[row]! > 0));
  let [sum, lives] = [0, 0];
  for (let row = 0; row < values.length; row++) {
    sum += count[row]! * values[row]!;
    lives += count[row]!;
  }
  return { mean: sum / lives, least, most };
}

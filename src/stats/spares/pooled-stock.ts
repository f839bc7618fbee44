import { countQuantile } from "./count-quantile.ts";
import { sumOfCounts } from "./sum-of-counts.ts";

/** Stock of several sites, each for itself and in one place. */
export type PooledStock = {
  /** Of each site, apart. */
  apart: number[];
  /** Their sum. */
  apartTotal: number;
  /** For the demand of all from one shelf. */
  together: number;
};

/**
 * Smallest stocks with the same chance of no shortage in a lead time, at each site apart and from one shelf for all. Demands are taken
 * as independent; where all draw on the same uncertain rate, sum within the draws and mix after.
 * @param demands - the chance of each number of pieces that a lead time demands, from 0 on, of each site
 * @param service - chance of no shortage to be kept, 0 < service < 1
 * @returns stocks
 * @throws RangeError for what are not chances
 * @see G. D. Eppen, Management Science 25 (1979) 498-501
 * @example pooledStock([poissonCounts(1), poissonCounts(1)], 0.95).together; // 5, where apart they need 6
 */
export function pooledStock(demands: readonly Float64Array[], service: number): PooledStock {
  const apart = demands.map((demand) => countQuantile(demand, service));
  return {
    apart,
    apartTotal: apart.reduce((sum, stock) => sum + stock, 0),
    together: countQuantile(sumOfCounts(demands), service),
  };
}

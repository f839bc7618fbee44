import type { ClusterRefits } from "./cluster-refits.ts";

/**
 * Jackknife covariance of the numbers that a regression fitted: (G - 1) / G times the sum over G clusters of the products of their distances
 * from the mean.
 * @param refits - from `refitWithoutClusters`, or of another regression
 * @returns of the same numbers, in their order
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 11
 * @example jackknifeCovariance(refits);
 */
export function jackknifeCovariance({ full, without }: ClusterRefits): number[][] {
  const groups = without.length;
  const mean = full.map((_, one) => without.reduce((sum, numbers) => sum + numbers[one]!, 0) / groups);
  return Array.from(full, (_, one) =>
    Array.from(full, (__, other) => {
      const products = without.reduce(
        (sum, numbers) => sum + (numbers[one]! - mean[one]!) * (numbers[other]! - mean[other]!),
        0,
      );
      return ((groups - 1) / groups) * products;
    }),
  );
}

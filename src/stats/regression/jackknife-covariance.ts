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
  const [groups, size] = [without.length, full.length];
  const mean = new Float64Array(size);
  for (const numbers of without) for (let one = 0; one < size; one++) mean[one]! += numbers[one]! / groups;
  const covariance = Array.from(full, () => new Array<number>(size).fill(0));
  for (const numbers of without) {
    for (let one = 0; one < size; one++) {
      const off = ((groups - 1) / groups) * (numbers[one]! - mean[one]!);
      for (let other = 0; other <= one; other++) covariance[one]![other]! += off * (numbers[other]! - mean[other]!);
    }
  }
  return covariance.map((row, one) => row.map((_, other) => covariance[Math.max(one, other)]![Math.min(one, other)]!));
}

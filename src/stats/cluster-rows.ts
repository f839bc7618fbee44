import { streamOf } from "./random/stream.ts";

/** More clusters than this are put together at random in so many. */
const MOST_GROUPS = 200;

/**
 * Rows of each cluster, in the order of first appearance; over 200 clusters are put together in 200 by the seed. Those are what a
 * delete-one-cluster jackknife leaves out in turn.
 * @param cluster - a number for each row
 * @param seed - any whole number
 */
export function clusterRows(cluster: Int32Array, seed: number): number[][] {
  const byCluster = new Map<number, number[]>();
  cluster.forEach((one, row) => {
    const rows = byCluster.get(one);
    if (rows === undefined) byCluster.set(one, [row]);
    else rows.push(row);
  });
  const clusters = [...byCluster.values()];
  if (clusters.length <= MOST_GROUPS) return clusters;
  const groups = Array.from({ length: MOST_GROUPS }, (): number[] => []);
  shuffled(clusters, seed).forEach((rows, at) => {
    for (const row of rows) groups[at % MOST_GROUPS]!.push(row);
  });
  return groups;
}

function shuffled<T>(values: T[], seed: number): T[] {
  const stream = streamOf(seed, 0);
  for (let at = values.length - 1; at > 0; at--) {
    const other = stream.below(at + 1);
    [values[at], values[other]] = [values[other]!, values[at]!];
  }
  return values;
}

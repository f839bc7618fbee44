/** A block of builds whose arms might have come in any other order. */
export type AssignedBlock = {
  /** Of each build. */
  scores: Float64Array;
  arms: Int32Array;
};

/** Builds by stratum and block; those of a block with one build, or one arm, too. */
export function assignedBlocks(
  scores: Float64Array,
  { arm, block, stratum }: { arm: Int32Array; block: Int32Array; stratum?: Int32Array },
): AssignedBlock[] {
  const rows = new Map<string, number[]>();
  for (let build = 0; build < arm.length; build++) {
    const key = `${stratum?.[build] ?? 0} ${block[build]}`;
    const found = rows.get(key);
    if (found === undefined) rows.set(key, [build]);
    else found.push(build);
  }
  return Array.from(rows.values(), (builds) => ({
    scores: Float64Array.from(builds, (build) => scores[build]!),
    arms: Int32Array.from(builds, (build) => arm[build]!),
  }));
}

/** In how many ways the arms of a block could have come. */
export function ordersOf({ arms }: AssignedBlock): number {
  const counts = new Map<number, number>();
  let orders = 1;
  for (const [at, arm] of arms.entries()) {
    const count = (counts.get(arm) ?? 0) + 1;
    counts.set(arm, count);
    orders *= (at + 1) / count;
  }
  return Math.round(orders);
}

/** Sums of the scores by arm for each order in which the arms of a block could have come. */
export function sumsOfOrders({ scores, arms }: AssignedBlock, groups: number): Float64Array[] {
  const left = new Int32Array(groups);
  for (const arm of arms) left[arm]!++;
  const found: Float64Array[] = [];
  const sums = new Float64Array(groups);
  const place = (build: number): void => {
    if (build === scores.length) found.push(sums.slice());
    for (let arm = 0; arm < groups && build < scores.length; arm++) {
      if (left[arm] === 0) continue;
      const before = sums[arm]!;
      left[arm]!--;
      sums[arm] = before + scores[build]!;
      place(build + 1);
      sums[arm] = before;
      left[arm]!++;
    }
  };
  place(0);
  return found;
}

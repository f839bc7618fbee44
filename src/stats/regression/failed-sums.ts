import type { RiskSteps } from "./risk-steps.ts";

/** Covariates and weights by place, and which places fail at each step. */
type Placed = Pick<RiskSteps, "firstFailed" | "end"> & {
  width: number;
  x: Float64Array;
  weight: Float64Array | null;
};

/** Sums over the failures of all steps, each with its weight: of the covariates, and of the offsets. */
export type FailedSums = { failed: Float64Array; failedOffset: number };

export function failedSums(sets: Placed & { offset: Float64Array | null }): FailedSums {
  const failed = new Float64Array(sets.width);
  let failedOffset = 0;
  for (let step = 0; step < sets.end.length; step++) {
    addFailed(failed, sets, step);
    if (sets.offset !== null) failedOffset += offsetAt(sets.offset, sets, step);
  }
  return { failed, failedOffset };
}

/** Adds the covariates of a step's failures. */
export function addFailed(sum: Float64Array, { width, x, weight, firstFailed, end }: Placed, step: number): void {
  for (let place = firstFailed[step]!; place < end[step]!; place++) {
    const own = weight === null ? 1 : weight[place]!;
    for (let one = 0; one < width; one++) sum[one]! += own * x[place * width + one]!;
  }
}

function offsetAt(offset: Float64Array, { weight, firstFailed, end }: Placed, step: number): number {
  let sum = 0;
  for (let place = firstFailed[step]!; place < end[step]!; place++) sum += (weight?.[place] ?? 1) * offset[place]!;
  return sum;
}

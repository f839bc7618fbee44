import type { Family } from "../distribution/family.ts";

/** Log of the largest shape that is reckoned with. A gamma distribution takes longer the larger it is, and is a lognormal long before. */
export function steepest({ name }: Family): number {
  return name === "gamma" ? MOST : Number.POSITIVE_INFINITY;
}

const MOST = Math.log(1e5);

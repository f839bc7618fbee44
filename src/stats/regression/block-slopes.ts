import { emptyTerms, type Family } from "../distribution/family.ts";
import type { PointRows } from "./life-rows.ts";

/**
 * Reckons the terms of a block at their z: writes the first and second derivatives by z, weights included, and gives the sum of the terms.
 * What does not depend on z, log(shape / age) of the failures, is left out.
 * @param from - where the block starts in the rows
 * @param z - of the block, from 0 on
 */
export type BlockSlopes = (
  rows: PointRows,
  from: number,
  length: number,
  z: Float64Array,
  first: Float64Array,
  second: Float64Array,
) => number;

export function blockSlopesOf(family: Family): BlockSlopes {
  const out = emptyTerms();
  return ({ failed, weight }, from, length, z, first, second) => {
    let value = 0;
    for (let term = 0; term < length; term++) {
      if (failed[from + term] === 1) family.logDensity(z[term]!, 0, out);
      else family.logSurvival(z[term]!, 0, out);
      const times = weight === null ? 1 : weight[from + term]!;
      value += times * out.value;
      first[term] = times * out.w;
      second[term] = times * out.ww;
    }
    return value;
  };
}

import { emptyTerms, type Family } from "../distribution/family.ts";
import { expByTable } from "../table-exp.ts";
import type { PointRows } from "./life-rows.ts";

/**
 * Reckons the terms of a block at their z: writes the first and second derivatives by z, weights included, and gives the sum of the terms.
 * What does not depend on z, log(shape / age) of the failures, is left out.
 * @param z - of the block, from 0 on
 * @param from - where the block starts in the rows
 */
export type BlockSlopes = (
  rows: PointRows,
  from: number,
  length: number,
  z: Float64Array,
  first: Float64Array,
  second: Float64Array,
) => number;

/** By the fastest way that the family has. */
export function blockSlopesOf(family: Family): BlockSlopes {
  return family.name === "weibull" || family.name === "exponential" ? extremeSlopes : slopesBy(family);
}

/** Weibull and exponential: log f = z - exp(z), log S = -exp(z). */
const extremeSlopes: BlockSlopes = ({ exact, weight }, from, length, z, first, second) => {
  let value = 0;
  for (let term = 0; term < length; term++) {
    const failed = exact[from + term]!;
    const hazard = weight[from + term]! * expByTable(z[term]!);
    value += failed * z[term]! - hazard;
    first[term] = failed - hazard;
    second[term] = -hazard;
  }
  return value;
};

function slopesBy(family: Family): BlockSlopes {
  const out = emptyTerms();
  return ({ exact, weight }, from, length, z, first, second) => {
    let value = 0;
    for (let term = 0; term < length; term++) {
      if (exact[from + term]! > 0) family.logDensity(z[term]!, 0, out);
      else family.logSurvival(z[term]!, 0, out);
      const times = weight[from + term]!;
      value += times * out.value;
      first[term] = times * out.w;
      second[term] = times * out.ww;
    }
    return value;
  };
}

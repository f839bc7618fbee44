import { emptyTerms, type Family } from "../distribution/family.ts";
import { addInterval } from "../fit/interval-term.ts";

const found = emptyTerms();

/** The derivatives of log[S(low) - S(high)] by theta_0 (or any column's theta, times the column) and by the shape k. */
export type WithinSlopes = {
  value: number;
  level: number;
  shape: number;
  levelLevel: number;
  levelShape: number;
  shapeShape: number;
};

/**
 * A failure between two log ages, at z = level + shape * log age.
 * @param low - log age less the typical one; -Infinity where left-censored
 * @param out - is written into
 */
export function withinSlopes(
  family: Family,
  low: number,
  high: number,
  level: number,
  shape: number,
  count: number,
  out: WithinSlopes,
): void {
  Object.assign(found, { value: 0, w: 0, e: 0, ww: 0, we: 0, ee: 0 });
  addInterval(found, family, { low: level + shape * low, high: level + shape * high, count }, 0);
  // By e both ends grow as they are, z * dz: less what the level gives, shape * log age is left.
  const [ofZ, ofOne] = [found.ee - found.e, found.we - found.w];
  out.value = found.value;
  out.level = found.w;
  out.shape = (found.e - level * found.w) / shape;
  out.levelLevel = found.ww;
  out.levelShape = (ofOne - level * found.ww) / shape;
  out.shapeShape = (ofZ - 2 * level * ofOne + level * level * found.ww) / (shape * shape);
}

import { countLimits } from "../../src/stats/rate/count-limits.ts";

export type FunnelKnot = { expected: number; ratio: number };

/**
 * Exact limits of events over expected where chance alone is at work (Poisson), as two curves over the expected number.
 * A knot of the upper curve is where a whole count has just the chance of half of 1 - level to be reached or passed; of the lower curve to be
 * reached or fallen below. Counts are whole: a point lies outside the lines between knots exactly where its count is outside the limits.
 * @param to - expected number up to which the curves are wanted, one knot beyond it
 */
export function funnelLimits(to: number, level: number): { upper: FunnelKnot[]; lower: FunnelKnot[] } {
  const upper: FunnelKnot[] = [];
  const lower: FunnelKnot[] = [];
  for (let count = 0; (lower.at(-1)?.expected ?? 0) < to || (upper.at(-1)?.expected ?? 0) < to; count = next(count)) {
    const { low, high } = countLimits(count, level);
    if (count > 0) upper.push({ expected: low, ratio: count / low });
    lower.push({ expected: high, ratio: count / high });
  }
  return { upper, lower };
}

/** Every count where steps show, then so that a curve over thousands has some hundred knots. */
function next(count: number): number {
  return Math.max(count + 1, Math.round(count * 1.02));
}

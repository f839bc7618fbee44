import type { HazardSums, LevelAndShape } from "./log-likelihood.ts";
import type { LivesBySeries } from "./wide-series.ts";

/** Newton steps are quadratic: after one this small, of the shape, the next is at rounding. */
const SMALL_STEP = 1e-8;
const MOST_STEPS = 20;

/**
 * Point of greatest likelihood by series of the hazard sums: the level makes the failures expected those seen, and the shape is the root of
 * S1 / S0 = mean z of the failures + 1 / shape.
 * @param near - the shape to look from
 * @returns the point and the sums there; null where the sums are not those of a hill, or no series reaches it
 */
export function bestBySeries(
  lives: LivesBySeries,
  near: number,
): { at: LevelAndShape; sums: HazardSums; steps: number } | null {
  const { exact, exactSum } = lives;
  const sums = { zero: 0, one: 0, two: 0 };
  let shape = near;
  for (let steps = 1; steps <= MOST_STEPS; steps++) {
    if (!lives.sumsAt(0, shape, sums)) return null;
    const { zero } = sums;
    const mean = sums.one / zero;
    const slope = sums.two / zero - mean * mean + 1 / (shape * shape);
    const by = (exactSum / exact + 1 / shape - mean) / slope;
    if (!(zero > 0 && slope > 0 && Math.abs(by) < shape)) return null;
    shape += by;
    if (Math.abs(by) < SMALL_STEP * shape) return atShape(lives, shape, steps);
  }
  return null;
}

function atShape(lives: LivesBySeries, shape: number, steps: number): ReturnType<typeof bestBySeries> {
  const sums = { zero: 0, one: 0, two: 0 };
  if (!lives.sumsAt(0, shape, sums)) return null;
  const factor = lives.exact / sums.zero;
  sums.zero *= factor;
  sums.one *= factor;
  sums.two *= factor;
  return { at: { level: Math.log(factor), shape }, sums, steps };
}

import type { Point } from "./constraint.ts";
import type { Slopes } from "./slopes.ts";
import type { Surface } from "./surface.ts";

/** Newton steps shrink quadratically: after one this small, in e and in the place of a failure in its distribution, the next is at rounding. */
const SMALL_STEP = 1e-8;
/** Largest step in log scale and log shape. */
const STEP_LIMIT = { a: 5, e: 2 / 3 };

/** By how much more a failure moves in its distribution than the log scale: the shape, or of that order. */
export function steepnessOf({ aa }: Slopes, { failures }: Pick<Surface, "failures">): number {
  const steepness = Math.sqrt(Math.abs(aa) / failures);
  return steepness > 0 && steepness < Number.POSITIVE_INFINITY ? steepness : 1;
}

/** The step to the top of the parabola that a likelihood is at a point, raised where it is not that of a hill. Reckoned in units of the steepness, so that the curvatures by a and by e are of one order. */
export function newtonStep(slopes: Slopes, steepness: number, fitsShape: boolean): Point {
  const { e, ee } = slopes;
  const [a, aa, ae] = [slopes.a / steepness, slopes.aa / steepness ** 2, slopes.ae / steepness];
  if (!fitsShape) {
    const curvature = aa < 0 ? -aa : Math.max(Math.abs(aa), Number.MIN_VALUE);
    return { a: Math.max(-STEP_LIMIT.a, Math.min(STEP_LIMIT.a, a / curvature / steepness)), e: 0 };
  }
  const middle = (-aa - ee) / 2;
  const reach = Math.hypot((ee - aa) / 2, ae);
  const least = middle - reach;
  const most = Math.max(Math.abs(middle) + reach, Number.MIN_VALUE);
  const raised = least > 1e-12 * most ? 0 : 1e-3 * most - least;
  const [p, q] = [-aa + raised, -ee + raised];
  const determinant = p * q - ae * ae;
  const step = { a: (q * a + ae * e) / determinant / steepness, e: (p * e + ae * a) / determinant };
  const shorter = Math.min(1, STEP_LIMIT.a / Math.abs(step.a), STEP_LIMIT.e / Math.abs(step.e));
  return { a: step.a * shorter, e: step.e * shorter };
}

/** A step after which the next is at rounding. */
export function isSmall(step: Point, steepness: number): boolean {
  return Math.abs(step.a) * Math.max(steepness, 1) < SMALL_STEP && Math.abs(step.e) < SMALL_STEP;
}

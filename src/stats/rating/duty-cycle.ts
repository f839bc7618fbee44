import { refuseUnlessPositive } from "./positive.ts";
import { LIFE_EXPONENT, type RollingElement } from "./rolling-element.ts";

/** A stretch of a duty: its share of the time (any unit; shares are taken relative to their sum), r/min, and equivalent load, kN. */
export type DutyStep = { share: number; speed: number; load: number };

/**
 * Mean speed of a duty, and the constant load that wears out a bearing at it as fast:
 * n = sum of q * n_i, P = (sum of q * n_i * P_i^p / n)^(1 / p), p = 3 for balls and 10/3 for rollers.
 * @param steps - one or more
 * @param element - what rolls, which sets p
 * @returns speed in r/min, load in kN
 * @throws RangeError for no steps, or a share, speed or load that is not above 0 and finite
 * @see ISO 281:2007; the mean is the linear-damage rule, common practice
 * @example dutyCycle([{ share: 0.5, speed: 1780, load: 8 }, { share: 0.5, speed: 3560, load: 5 }], "ball");
 */
export function dutyCycle(steps: readonly DutyStep[], element: RollingElement): { speed: number; load: number } {
  if (steps.length === 0) throw new RangeError("Cannot average a duty: it has no steps");
  for (const { share, speed, load } of steps) {
    refuseUnlessPositive("average a duty", { "a share": share, "a speed": speed, "a load": load });
  }
  const p = LIFE_EXPONENT[element];
  const shares = steps.reduce((sum, { share }) => sum + share, 0);
  const speed = steps.reduce((sum, step) => sum + (step.share / shares) * step.speed, 0);
  const most = steps.reduce((sofar, { load }) => Math.max(sofar, load), 0);
  const damage = steps.reduce((sum, step) => sum + (step.share / shares) * step.speed * (step.load / most) ** p, 0);
  return { speed, load: most * (damage / speed) ** (1 / p) };
}

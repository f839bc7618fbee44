import { normalHalfWidth } from "../level.ts";
import { wilsonLimits } from "../measurements/wilson-limits.ts";
import { aalenJohansen, type IncidenceStep } from "./aalen-johansen.ts";
import type { CauseLives } from "./cause-lives.ts";

/** Share of lives that a cause has ended by an age; null, with the reason, where too few were followed so far. */
export type IncidenceBy = { estimate: number; low: number; high: number } | { estimate: null; reason: string };

/**
 * Share of lives that one cause has ended by an age, other causes competing and lives followed less far counted as long as they were
 * (Aalen-Johansen), with Wilson's limits at the effective number of lives: that of which a plain share would have the same standard
 * error. Where the cause has ended none (or all), the lives known to the age, those ended by other causes among them. So limits exist
 * without a failure, and for lives all followed they are those of a plain share.
 * @param lives - exact or right-censored, each failure with its cause; without late entry
 * @param asked - which of how many causes, by which age above 0, at which confidence level
 * @returns the share and its limits, or the reason why it is not known
 * @throws RangeError for columns that are not lives with causes, lives that enter late, an age not above 0, or a level out of range
 * @see F. J. Dorey & E. L. Korn, Statistics in Medicine 6 (1987) 679-687 (from memory), for the effective number
 * @example incidenceBy(lives, { cause: 0, causes: 2, age: 90, level: 0.95 });
 */
export function incidenceBy(
  lives: CauseLives,
  { cause, causes, age, level }: { cause: number; causes: number; age: number; level: number },
): IncidenceBy {
  const z = normalHalfWidth(level);
  if (!(age > 0) || lives.entry?.some((entry) => entry > 0) || !(cause >= 0 && cause < causes)) {
    throw new RangeError(
      `Cannot tell an incidence: found age ${age}, cause ${cause} of ${causes}, or lives that enter late`,
    );
  }
  const curves = aalenJohansen(lives, { causes, level, limits: "plain" });
  const step = lastBy(curves[cause]!, age);
  const known = knownTo(lives, age);
  // With none at risk any more the curves go on only where every life has ended by some cause.
  const ended = curves.reduce((sum, steps) => sum + (lastBy(steps, age)?.incidence ?? 0), 0);
  if (known.followed === 0 && !(ended > 1 - 1e-9)) {
    return { estimate: null, reason: `none has been followed for ${age}` };
  }
  const share = Math.min(1, step?.incidence ?? 0);
  const certain = share === 0 || share === 1 || step === undefined || step.se === 0;
  const of = certain ? known.followed + known.ended : (share * (1 - share)) / step.se ** 2;
  return { estimate: share, ...wilsonLimits(share, of, z) };
}

function lastBy(steps: IncidenceStep[], age: number): IncidenceStep | undefined {
  return steps.findLast(({ time }) => time <= age);
}

/** Lives followed to the age or beyond, and lives that ended before it. */
function knownTo({ time, failed, count }: CauseLives, age: number): { followed: number; ended: number } {
  let [followed, ended] = [0, 0];
  for (let life = 0; life < time.length; life++) {
    const lives = count?.[life] ?? 1;
    if (time[life]! >= age) followed += lives;
    else if (failed[life] === 1) ended += lives;
  }
  return { followed, ended };
}

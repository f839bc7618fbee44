import { normalHalfWidth } from "../level.ts";
import { curveStart } from "../survival/risk-table.ts";
import { type LimitScale, survivalLimits } from "../survival/survival-limits.ts";
import { aalenErrors } from "./aalen-errors.ts";
import { type CauseLives, checkCauseLives } from "./cause-lives.ts";
import { incidenceCurve } from "./incidence-curve.ts";
import { jackknifeErrors } from "./jackknife-errors.ts";
import { watchedFrom } from "./watched-lives.ts";

/** A step of a cumulative incidence: at an age where lives end, whatever the cause or by none. */
export type IncidenceStep = {
  /** Age of the step. */
  time: number;
  /** Lives at risk just before `time`. */
  atRisk: number;
  /** Failures of this cause at `time`. */
  failed: number;
  /** Fraction failed of this cause by `time`; under late entry, of those unfailed where the curve starts. */
  incidence: number;
  /** Infinitesimal jackknife over lives; without late entry it is the delta-method (Greenwood-type) error. */
  se: number;
  /** Aalen's, from the variances of the failure counts at each age; a little larger. */
  seAalen: number;
  /** Lower normal limit from `se`; null where the incidence is 0 or 1. */
  low: number | null;
  /** Upper limit, likewise. */
  high: number | null;
};

/** How cumulative incidences are to be drawn. */
export type IncidenceOptions = {
  /** How many causes there are; a cause that no life failed of has an incidence of 0 throughout. */
  causes: number;
  /** Confidence level, 0 < level < 1. */
  level: number;
  /** Scale on which the limits of the incidence are normal. */
  limits: LimitScale;
  /** Under late entry, lives at risk with which the curve starts (`curveStart` tells where); 1 where not given. */
  minimumAtRisk?: number;
};

/** Incidences above this are 1 less the rounding of their sum. */
const ALL = 1 - 1e-12;

/**
 * Aalen-Johansen estimate of the cumulative incidence of each cause, for exact and right-censored lives with late entry and
 * counts: F(t) = sum over failure ages s up to t of S(s-) * failed of the cause / at risk, where S is the survival of all causes.
 * The incidences and S add up to 1. Failures come before removals at equal ages.
 * @param lives - exact or right-censored, each failure with its cause
 * @param options - causes, level, scale of the limits, start under late entry
 * @returns per cause a step for each age at which a life ends; none where the curve never starts
 * @throws RangeError for columns that are not lives with causes, a late entry that is not before its end, or a level out of range
 * @see O. Aalen & S. Johansen, Scand. J. Statistics 5 (1978) 141-150; O. Aalen, Annals of Statistics 6 (1978) 534-545
 * @example aalenJohansen(lives, { causes: 2, level: 0.95, limits: "log-log" });
 */
export function aalenJohansen(lives: CauseLives, options: IncidenceOptions): IncidenceStep[][] {
  const { causes, minimumAtRisk = 1, limits } = options;
  const z = normalHalfWidth(options.level);
  checkCauseLives(lives, causes);
  const start = curveStart(lives, minimumAtRisk);
  const watched = start === null ? null : watchedFrom(lives, start);
  return Array.from({ length: causes }, (_, cause) => {
    if (watched === null) return [];
    const curve = incidenceCurve(watched, cause);
    const jackknife = jackknifeErrors(watched, curve, cause);
    const aalen = aalenErrors(watched, curve);
    return Array.from(watched.time, (time, age) => {
      const incidence = curve.incidence[age]!;
      const se = jackknife[age]!;
      return {
        time,
        atRisk: watched.atRisk[age]!,
        failed: curve.failed[age]!,
        incidence,
        se,
        seAalen: aalen[age]!,
        ...survivalLimits(incidence > ALL ? 1 : incidence, se / incidence, z, limits),
      };
    });
  });
}

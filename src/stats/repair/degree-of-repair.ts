import { chiSquareTail } from "../chi-square-tail.ts";
import type { Interval } from "../fit/quantity.ts";
import { likelihoodCutOff } from "../level.ts";
import { degreeLimits } from "./degree-limits.ts";
import { type DegreeProfile, degreeProfile, type ProfilePoint } from "./degree-profile.ts";
import { type Gaps, gatherGaps, type RepairCounts } from "./gather-gaps.ts";
import { lawLimits } from "./law-limits.ts";
import { repairErrors } from "./repair-errors.ts";
import { checkHistories, type RepairHistories } from "./repair-histories.ts";
import { RepairLikelihood } from "./repair-likelihood.ts";
import { repairRefusal } from "./repair-refusal.ts";
import type { RepairModel } from "./virtual-ages.ts";

/** The fit with the degree held at a bound, and the likelihood-ratio test of it. */
export type BoundTest = {
  /** Twice the log-likelihood that the bound falls short of the top by. */
  statistic: number;
  /** Chance of such a statistic or a larger one, were the bound the truth: half 0 and half chi-square with 1 degree. */
  p: number;
  shape: number;
  scale: number;
  logLikelihood: number;
};

/** A degree of repair of greatest likelihood. */
export type FittedRepair = RepairCounts & {
  converged: true;
  model: RepairModel;
  /** Confidence level of the limits. */
  level: number;
  /** Degree of repair: 0 as good as new, 1 as before. Limits by profile likelihood within [0, 1]; one at a bound is that bound, and no limit. */
  q: { estimate: number; low: number; high: number; atBoundary: "new" | "before" | null };
  /** Of the Weibull first life, no unit; limits by profile likelihood. */
  shape: Interval;
  /** Of the Weibull first life, in the unit of the ages; limits likewise. */
  scale: Interval;
  /** From the observed information; that of q is null at a bound, and then the others take q as known. */
  standardErrors: { q: number | null; logShape: number; logScale: number };
  /** Of the ages themselves, no constant dropped. */
  logLikelihood: number;
  /** Tests of q = 0 and of q = 1. */
  tests: { new: BoundTest; before: BoundTest };
  /** The top lies at 1 and the likelihood still rises there: with a shape above 1, worse than before. */
  risesPastBefore: boolean;
  /** Derivative of the greatest log-likelihood by q, at q = 1. */
  slopeAtBefore: number;
  /** Under 30 repairs: one way of reading the data, not a finding. */
  isSensitivity: boolean;
};

/** A degree of repair, or why there is none and what it would have rested on. */
export type DegreeOfRepair = FittedRepair | (RepairCounts & { converged: false; model: RepairModel; reason: string });

/** Repairs from which on a degree of repair is a finding: our own choice, no source. */
const ENOUGH_REPAIRS = 30;

/**
 * Degree of repair by the generalised renewal process: after each repair a unit is as good as one of some virtual age, which is q times its
 * age (model "I"), or q times the virtual age and time that had gathered up to the repair (model "II"). The time to the next failure is a
 * Weibull life that has come to that virtual age; a repair before failure and the end of observation are suspensions. Repairs of a unit at
 * one age count as one. All units are taken as alike: differences between them make repairs look worse than they are.
 * @param histories - repairs by unit and age, and from when to when each unit was watched
 * @param options - `model`: what a repair takes back; `level`: confidence level, 0 < level < 1
 * @returns the fit, or why there is none
 * @throws RangeError for columns of unequal length, an unknown unit, an age that can't be, or a level out of range
 * @see M. Kijima, Some results for repairable systems with general repair, J. Appl. Prob. 26 (1989) 89-102; for tests at a bound
 * S. G. Self & K.-Y. Liang, J. Amer. Statist. Assoc. 82 (1987) 605-610
 * @example degreeOfRepair(histories, { model: "I", level: 0.95 });
 */
export function degreeOfRepair(
  histories: RepairHistories,
  { model, level }: { model: RepairModel; level: number },
): DegreeOfRepair {
  const cutOff = likelihoodCutOff(level);
  checkHistories(histories);
  const gaps = gatherGaps(histories);
  const counts = countsOf(gaps);
  const refused = repairRefusal(gaps);
  if (refused !== null) return { converged: false, model, reason: refused, ...counts };
  const likelihood = new RepairLikelihood(gaps, model);
  const profile = degreeProfile(likelihood);
  if (profile === null) return { converged: false, model, reason: NO_SHAPE, ...counts };
  const { at, slopes } = profile.top;
  const errors = repairErrors(likelihood, at);
  if (errors === null) return { converged: false, model, reason: FLAT, ...counts };
  const slopeAtBefore = likelihood.atBestScale(profile.points.at(-1)!.at, true).q;
  const atBoundary = at.q === 0 ? "new" : at.q === 1 ? "before" : null;
  return {
    converged: true,
    model,
    level,
    q: { estimate: at.q, ...degreeLimits(likelihood, profile, cutOff), atBoundary },
    ...lawLimits(likelihood, profile, cutOff),
    standardErrors: errors,
    logLikelihood: slopes.value,
    tests: boundTests(likelihood, profile),
    risesPastBefore: atBoundary === "before" && slopeAtBefore > RISES * gaps.failures,
    slopeAtBefore,
    ...counts,
    isSensitivity: counts.repairs < ENOUGH_REPAIRS,
  };
}

const NO_SHAPE =
  "the likelihood rises without end as the shape grows or falls: the gaps are too few or too much alike to tell shape and degree of repair";
const FLAT = "the likelihood is flat at its top: shape, scale and degree of repair can't be told apart";

/** A slope of less than this a failure is rounding. */
const RISES = 1e-9;

function countsOf({ units, repairs, failures, merged, leftOut }: Gaps): RepairCounts {
  return { units, repairs, failures, merged, leftOut };
}

function boundTests(likelihood: RepairLikelihood, { points, top }: DegreeProfile): FittedRepair["tests"] {
  const test = ({ at, slopes }: ProfilePoint): BoundTest => {
    const statistic = Math.max(0, 2 * (top.slopes.value - slopes.value));
    return {
      statistic,
      p: statistic === 0 ? 1 : chiSquareTail(statistic, 1) / 2,
      shape: Math.exp(at.e),
      scale: Math.exp(likelihood.bestLogScale(at, false).value),
      logLikelihood: slopes.value,
    };
  };
  return { new: test(points[0]!), before: test(points.at(-1)!) };
}

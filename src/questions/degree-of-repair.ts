import { compareRepairModels, type RepairComparison } from "../stats/repair/compare-repair-models.ts";
import type { FittedRepair } from "../stats/repair/degree-of-repair.ts";
import type { Estimate } from "./estimate.ts";
import type { GroupOfHistories } from "./group-histories.ts";
import type { DegreeOfRepair } from "./recurrence-answer.ts";
import { repairHistories } from "./service-histories.ts";
import { count, withLimits } from "./wording.ts";

/** How good the units of one group are after a rebuild, of whatever kind. */
export function degreeOfRepairOf(group: GroupOfHistories, level: number): DegreeOfRepair {
  const found = compareRepairModels(repairHistories(group), { level });
  const fit = found.better === "II" ? found.second : found.first;
  const basis = { rebuilds: fit.repairs, units: fit.units, leftOut: fit.leftOut.unknownPast, merged: fit.merged };
  if (!fit.converged) {
    const reason =
      fit.units === 0 && basis.leftOut > 0 ? "of no unit is the whole history since new on record" : fit.reason;
    return { ...notKnown(reason), ...basis };
  }
  const { estimate, low, high, atBoundary } = fit.q;
  return {
    model: fit.model,
    degree: { estimate, low, high },
    atBoundary,
    shape: fit.shape,
    scale: fit.scale,
    logLikelihood: fit.logLikelihood,
    otherModelShort: found.difference === null ? null : 2 * Math.abs(found.difference) * sign(found, fit.model),
    tests: { new: testOf(fit.tests.new), before: testOf(fit.tests.before) },
    worseThanBefore: perhapsWorse(fit),
    sensitivityOnly: fit.isSensitivity,
    ...basis,
    says: inPlainWords(fit),
  };
}

/** Degree of repair of a group that is not looked at so closely. */
export function notKnown(reason: string): DegreeOfRepair {
  const none: Estimate = { estimate: null, low: null, high: null, reason };
  return {
    model: null,
    degree: none,
    atBoundary: null,
    shape: none,
    scale: none,
    logLikelihood: null,
    otherModelShort: null,
    tests: null,
    worseThanBefore: false,
    sensitivityOnly: false,
    rebuilds: 0,
    units: 0,
    leftOut: 0,
    merged: 0,
    says: `how good a frame is after a rebuild can't be told: ${reason}`,
  };
}

/** Above 0 where the model taken is the likelier one. */
function sign({ difference }: RepairComparison, model: "I" | "II"): number {
  return difference! >= 0 === (model === "I") ? 1 : -1;
}

function testOf({ statistic, p }: { statistic: number; p: number }): { statistic: number; p: number } {
  return { statistic, p };
}

/** A p from which a test has not ruled its bound out. */
const NOT_RULED_OUT = 0.05;

function inPlainWords(fit: FittedRepair): string {
  const { q } = fit;
  const end = q.atBoundary === null ? "" : "; the estimate lies at the end of that range";
  const figure = `degree ${withLimits({ estimate: q.estimate, low: q.low, high: q.high }, "")}, where 0 is as good as new and 1 as before${end}`;
  const weak = `; from ${count(fit.repairs, "rebuild")} only: one way of reading them, not a finding`;
  return `${verdictOf(fit)} (${figure})${fit.isSensitivity ? weak : ""}`;
}

/** With a shape below 1 a greater virtual age means fewer failures: rising further says nothing bad then. */
function perhapsWorse({ risesPastBefore, shape }: FittedRepair): boolean {
  return risesPastBefore && shape.estimate > 1;
}

function verdictOf(fit: FittedRepair): string {
  const { q, tests } = fit;
  const asNew = tests.new.p >= NOT_RULED_OUT;
  const asBefore = tests.before.p >= NOT_RULED_OUT;
  if ((asNew && asBefore) || (q.low === 0 && q.high === 1))
    return "the records do not tell whether a rebuilt frame is as good as new or as before";
  if (asNew) return "a rebuilt frame is as good as new, as far as the records tell";
  if (!asBefore) return "a rebuilt frame is better than before the rebuild, but not as good as new";
  return perhapsWorse(fit)
    ? "a rebuilt frame is no better than before the rebuild, perhaps worse"
    : "a rebuilt frame is as it was before the rebuild";
}

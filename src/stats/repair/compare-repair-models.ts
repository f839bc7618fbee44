import { type DegreeOfRepair, degreeOfRepair } from "./degree-of-repair.ts";
import type { RepairHistories } from "./repair-histories.ts";
import type { RepairModel } from "./virtual-ages.ts";

/** Degrees of repair under both models, and which describes the repairs better. */
export type RepairComparison = {
  first: DegreeOfRepair;
  second: DegreeOfRepair;
  /** Log-likelihood of model I less that of model II; null unless both have one. They have as many parameters, so no more is needed. */
  difference: number | null;
  /** The model that is clearly better: twice the difference over 4, from 20 failures on. */
  better: RepairModel | null;
};

/** From so many failures, and so much twice the difference, a model is called better: our own choice, no source. */
const CLEARLY = { failures: 20, twice: 4 };

/**
 * Compares what a repair takes back: of the time since the last repair alone (Kijima's model I), or of all that had gathered (II).
 * @param histories - as for `degreeOfRepair`
 * @param options - `level`: confidence level, 0 < level < 1
 * @returns both fits and the difference of their log-likelihoods
 * @throws RangeError as `degreeOfRepair`
 * @see M. Kijima, Some results for repairable systems with general repair, J. Appl. Prob. 26 (1989) 89-102
 * @example compareRepairModels(histories, { level: 0.95 });
 */
export function compareRepairModels(histories: RepairHistories, { level }: { level: number }): RepairComparison {
  const first = degreeOfRepair(histories, { model: "I", level });
  const second = degreeOfRepair(histories, { model: "II", level });
  if (!(first.converged && second.converged)) return { first, second, difference: null, better: null };
  const difference = first.logLikelihood - second.logLikelihood;
  const isClear = first.failures >= CLEARLY.failures && 2 * Math.abs(difference) > CLEARLY.twice;
  const likelier = difference > 0 ? "I" : "II";
  return { first, second, difference, better: isClear ? likelier : null };
}

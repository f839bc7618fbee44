import { fitProportionalHazards } from "../stats/regression/proportional-hazards.ts";
import { proportionality } from "../stats/regression/proportionality.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import type { ToFit } from "./compare-fit.ts";
import { rightCensored } from "./life-curves.ts";

/** Of more lives a change too small to matter would be found. */
const MOST_LIVES = 100_000;

/** Whether each term's ratio of hazards is the same at all ages; nothing where lives are known by intervals, or too many. */
export function proportionalityOf({ lives, effect, others, stratum }: ToFit): CompareAnswer["proportionality"] {
  const known = lives.low.length > MOST_LIVES ? null : rightCensored(lives);
  if (known === null) return [];
  const covariates = [...effect, ...others];
  const model = { lives: known, covariates, ...(stratum !== undefined && { stratum }) };
  const fit = fitProportionalHazards(known, covariates, model);
  if (!fit.converged) return [];
  return proportionality(model, fit).covariates.flatMap(({ name, test }) =>
    test === null ? [] : [{ term: name, statistic: test.statistic, df: test.degrees, p: test.p }],
  );
}

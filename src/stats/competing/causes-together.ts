import type { Lives } from "../lives.ts";
import { countedKaplanMeier } from "../survival/kaplan-meier.ts";
import { countedLives, startOfCounted } from "../survival/risk-table.ts";
import type { WeibullFit } from "../weibull/fit.ts";
import { weibullSurvival } from "../weibull/survival.ts";
import { type CauseRefusal, fittedCauses } from "./fitted-causes.ts";

/** How far the causes' distributions together lie from what was seen. */
export type CausesTogether = {
  /** Product of the causes' survivals less the Kaplan-Meier survival of all, where that is furthest from 0. */
  difference: number;
  /** The failure age where that is, just before or at the step. */
  time: number;
};

/** No comparison, and why. */
export type NoneTogether = { difference: null; time: null; cause: number | null; reason: string };

/**
 * Compares the product of the causes' Weibull survivals with the Kaplan-Meier survival of all causes, over the ages with failures.
 * Under late entry both are fractions of those unfailed where the curve starts.
 * @param lives - the lives that the causes were fitted to
 * @param fits - of each cause, as `causeWeibulls` gives them
 * @param minimumAtRisk - as for `kaplanMeier`; 1 where not given
 * @returns the greatest difference and its age, or nulls with the reason
 * @throws RangeError for columns that are not lives, or a late entry that is not before its end
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 15
 * @example causesTogether(lives, causeWeibulls(lives, 2));
 */
export function causesTogether(lives: Lives, fits: WeibullFit[], minimumAtRisk = 1): CausesTogether | NoneTogether {
  const counted = countedLives(lives);
  const start = startOfCounted(counted, minimumAtRisk);
  const curve = countedKaplanMeier(counted, { level: 0.95, limits: "plain", minimumAtRisk });
  const failures = curve.filter(({ failed }) => failed > 0);
  if (start === null || failures.length === 0) {
    return none({ cause: null, reason: "there is no failure where enough lives are at risk" });
  }
  const fitted = fittedCauses(fits);
  if ("reason" in fitted) return none(fitted);
  const product = (time: number) => fitted.reduce((all, fit) => all * weibullSurvival(time, fit.shape, fit.scale), 1);
  const atStart = product(start);
  if (atStart === 0)
    return none({ cause: null, reason: "by the fitted distributions none would reach the first ages seen" });
  let furthest: CausesTogether = { difference: 0, time: failures[0]!.time };
  let before = 1;
  for (const { time, survival } of failures) {
    const expected = product(time) / atStart;
    for (const difference of [expected - before, expected - survival]) {
      if (Math.abs(difference) > Math.abs(furthest.difference)) furthest = { difference, time };
    }
    before = survival;
  }
  return furthest;
}

function none({ cause, reason }: CauseRefusal | { cause: null; reason: string }): NoneTogether {
  return { difference: null, time: null, cause, reason };
}

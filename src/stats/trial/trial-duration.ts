import { expectedFailures, type TrialPlan } from "./expected-failures.ts";

/** How long a trial is to run, or why it never ends. */
export type TrialDuration =
  /** `builds` are the rebuilds of all arms by then. */
  { months: number; builds: number } | { months: null; reason: string };

/** Longer ones are no trials. */
const MOST_MONTHS = 1200;

/**
 * Months from the first build until the failures to expect are those that are needed.
 * @param plan - arms, months of building, removals
 * @param failures - needed in all arms together, above 0
 * @returns months and builds, or the reason why so many failures are not to be expected within 100 years
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503, for failures expected under accrual
 * @example trialDuration({ arms: [{ rebuildsPerMonth: 5, shape: 1, scale: 20 }] }, 50); // { months: 23.97, builds: 119.8 }
 */
export function trialDuration(plan: TrialPlan, failures: number): TrialDuration {
  if (!(failures > 0 && failures < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot plan a trial: the failures needed must be above 0, found ${failures}`);
  }
  const most = expectedFailures(plan, MOST_MONTHS);
  if (most < failures) {
    const words = `of the ${failures} failures needed only ${most.toPrecision(3)} are to be expected`;
    return { months: null, reason: `${words} in ${MOST_MONTHS / 12} years` };
  }
  let [low, high] = [0, MOST_MONTHS];
  while (high - low > high * NEGLIGIBLE) {
    const middle = (low + high) / 2;
    if (expectedFailures(plan, middle) < failures) low = middle;
    else high = middle;
  }
  const building = Math.min(high, plan.buildingMonths ?? high);
  return { months: high, builds: building * plan.arms.reduce((sum, arm) => sum + arm.rebuildsPerMonth, 0) };
}

const NEGLIGIBLE = 1e-10;

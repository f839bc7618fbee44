import { weibullIntegral } from "./weibull-integral.ts";

/** An arm of a trial: what is built into it, and how that lives. */
export type TrialArm = {
  /** Above 0. */
  rebuildsPerMonth: number;
  /** Weibull shape, 0.01 or more. */
  shape: number;
  /** Weibull scale in months, above 0. */
  scale: number;
};

/** How a trial runs: rebuilds go into each arm evenly from month 0 on. */
export type TrialPlan = {
  arms: readonly TrialArm[];
  /** Months after which no more are built into the trial, above 0; it goes on for as long as it lasts where not given. */
  buildingMonths?: number;
  /** Mean months until a build is taken out unfailed, after an exponential law, above 0; none is where not given. */
  removedAfter?: number;
};

/**
 * Failures to expect in a trial by a month: the sum over arms of rate * integral of f(t) exp(-t / removedAfter) b(t), f being the Weibull
 * density and b(t) the months of building whose builds have then had age t.
 * @param plan - arms, months of building, removals
 * @param month - since the first build, 0 or more
 * @returns a mean number of failures, all arms together
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503, for the same without removals
 * @example expectedFailures({ arms: [{ rebuildsPerMonth: 5, shape: 1, scale: 20 }] }, 24); // 50.119
 */
export function expectedFailures(plan: TrialPlan, month: number): number {
  checkPlan(plan);
  if (!isPositive(month) && month !== 0) {
    throw new RangeError(`Cannot tell the failures of a trial: the month must be 0 or more, found ${month}`);
  }
  const building = Math.min(month, plan.buildingMonths ?? month);
  const removedAfter = plan.removedAfter ?? Number.POSITIVE_INFINITY;
  const stays = (age: number) => Math.exp(-age / removedAfter);
  let sum = 0;
  for (const arm of plan.arms) {
    const all = weibullIntegral(arm, [0, month - building], (age) => building * stays(age));
    const part = weibullIntegral(arm, [month - building, month], (age) => (month - age) * stays(age));
    sum += arm.rebuildsPerMonth * (all + part);
  }
  return sum;
}

function checkPlan({ arms, buildingMonths, removedAfter }: TrialPlan): void {
  const times = [buildingMonths, removedAfter].filter((time) => time !== undefined);
  const isArm = (arm: TrialArm) => isPositive(arm.rebuildsPerMonth) && isPositive(arm.scale) && isPositive(arm.shape);
  if (arms.length > 0 && arms.every((arm) => isArm(arm) && arm.shape >= 0.01) && times.every(isPositive)) return;
  const found = arms.map((arm) => `${arm.rebuildsPerMonth} a month, shape ${arm.shape}, scale ${arm.scale}`).join("; ");
  throw new RangeError(
    `Cannot plan a trial: found arms "${found}", building ${buildingMonths}, removed ${removedAfter}`,
  );
}

function isPositive(value: number): boolean {
  return value > 0 && value < Number.POSITIVE_INFINITY;
}

import type { CurveStep } from "./kaplan-meier.ts";

/** Age by which a fraction has failed. What does not exist is null, and `reason` says why. */
export type CurveQuantile = { estimate: number | null; low: number | null; high: number | null; reason?: string };

/** Survivals this close to the one asked for are taken to meet it: the square root of the double precision. */
const MEETS = 2 ** -26;

/**
 * Age by which the fraction `p` has failed on a survival curve: the first age at which survival is at or below 1 - p,
 * or the middle of the flat stretch where it equals 1 - p. Its limits are the same read off the curve's own limits.
 * @param steps - a Kaplan-Meier curve
 * @param p - fraction failed, 0 < p < 1; 0.5 is the median
 * @returns an age in the unit of the curve, with limits; what the curve does not reach is null, with the reason
 * @throws RangeError if p lies outside its range
 * @see Brookmeyer & Crowley, A confidence interval for the median survival time, Biometrics 38 (1982) 29-41
 * @example survivalQuantile(kaplanMeier(lives, { level: 0.95, limits: "log-log" }), 0.5);
 */
export function survivalQuantile(steps: CurveStep[], p: number): CurveQuantile {
  if (!(p > 0 && p < 1)) throw new RangeError(`Cannot take a survival quantile: p must be in (0, 1), found ${p}`);
  const estimate = crossing(steps, 1 - p, ({ survival }) => survival);
  const low = crossing(steps, 1 - p, (step) => step.low);
  const high = crossing(steps, 1 - p, (step) => step.high);
  if (estimate === null) return { estimate, low, high, reason: `the survival curve stays above ${1 - p}` };
  const lacks = [low === null ? "lower" : "", high === null ? "upper" : ""]
    .filter((side) => side !== "")
    .join(" and no ");
  if (lacks === "") return { estimate, low, high };
  return { estimate, low, high, reason: `no ${lacks} limit: the curve's own limit stays above ${1 - p}` };
}

function crossing(steps: CurveStep[], wanted: number, value: (step: CurveStep) => number | null): number | null {
  const first = (below: number) =>
    steps.find((step) => {
      const at = value(step);
      return at !== null && at <= below;
    })?.time ?? null;
  const from = first(wanted + MEETS);
  const to = first(wanted - MEETS) ?? steps.at(-1)?.time ?? null;
  return from === null || to === null ? null : (from + to) / 2;
}

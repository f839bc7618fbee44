import gammainc from "@stdlib/math-base-special-gammainc";
import logGamma from "@stdlib/math-base-special-gammaln";

/** Units that start evenly over a time, and are then all followed for another, with Weibull lives; all ages in one unit. */
export type Following = {
  /** Weibull shape, 0.01 or more. */
  shape: number;
  /** Weibull scale, above 0. */
  scale: number;
  /** Time over which units start, 0 or more. */
  accrual: number;
  /** Time from the last start to the end, 0 or more. */
  followUp: number;
};

/**
 * Chance that a unit fails while it is followed: the mean of the fraction failed F(u) over ages u from `followUp` to
 * `followUp + accrual`. The integral of F from 0 to u is u F(u) - scale gamma(1 + 1 / shape) P(1 + 1 / shape, (u / scale)^shape).
 * @param following - Weibull shape and scale, accrual and follow-up in the unit of the scale
 * @returns a chance, 0 to 1
 * @throws RangeError if an argument lies outside its range
 * @see D. A. Schoenfeld, Biometrics 39 (1983) 499-503; NIST Digital Library of Mathematical Functions, 8.2
 * @example failureChance({ shape: 1.5, scale: 20000, accrual: 8760, followUp: 8760 }); // 0.410386
 */
export function failureChance(following: Following): number {
  const { shape, scale, accrual, followUp } = following;
  checkFollowing(following);
  const failedBy = (age: number) => -Math.expm1(-((age / scale) ** shape));
  if (accrual <= SHORT * followUp || accrual === 0) return failedBy(followUp + accrual / 2);
  const mean = Math.exp(logGamma(1 + 1 / shape));
  const area = (age: number) => {
    const used = (age / scale) ** shape;
    const own = used === Number.POSITIVE_INFINITY ? 1 : gammainc(used, 1 + 1 / shape, true, false);
    return age * failedBy(age) - scale * mean * own;
  };
  return Math.min(1, Math.max(0, (area(followUp + accrual) - area(followUp)) / accrual));
}

/** Below this share of the follow-up the difference of two integrals loses more digits than the middle of the accrual does. */
const SHORT = 1e-5;

function checkFollowing({ shape, scale, accrual, followUp }: Following): void {
  const possible = [scale, accrual, followUp, shape].every((value) => value >= 0 && value < Number.POSITIVE_INFINITY);
  if (possible && shape >= 0.01 && scale > 0 && accrual + followUp < Number.MAX_VALUE) return;
  const found = `shape ${shape}, scale ${scale}, accrual ${accrual}, follow-up ${followUp}`;
  throw new RangeError(`Cannot take the chance of a failure: found ${found}`);
}
